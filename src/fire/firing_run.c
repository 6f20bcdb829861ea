#include "fire/firing_run.h"

#include "fire/switches.h"

#include <math.h>
#include <string.h>

#define LONGEST_COOLING_S (240 * S_PER_H)
#define COOLING_STARTS_S 300.0

static double hottest_inside_c(const ks_network *net)
{
    double hottest = -INFINITY;
    for (int i = 0; i < net->n_nodes; i++)
        if (net->nodes[i].kind != KS_FACE_NODE)
            hottest = fmax(hottest, net->nodes[i].temp_c);
    return hottest;
}

#define CONES_STILL_K 150.0 /* so far below the top no cone goes on bending */
#define PROPPED_STEP_S 300.0

/* Hours from now until it may be opened with its lid propped; then all is as it was. */
static double propped_h(ks_course *c)
{
    double time_s = 0, power_w;
    ks_network_keep(&c->model.net, c->arena, &c->kept);
    while (hottest_inside_c(&c->model.net) > OPEN_AT_C && time_s < LONGEST_COOLING_S) {
        ks_drive drive = {PROPPED_STEP_S, NAN, 0};
        ks_course_propped_air(c);
        if (!ks_network_step(&c->model.net, &drive, 0, &power_w))
            break;
        time_s += PROPPED_STEP_S;
    }
    bool open = hottest_inside_c(&c->model.net) <= OPEN_AT_C;
    ks_network_restore(&c->model.net, &c->kept);
    return open ? time_s / S_PER_H : NAN;
}

/* The first moment at which the lid might be propped: how long it would take then. */
static void note_propped(ks_course *c, double from_s)
{
    double at_c = ks_course_reading_c(c);
    c->propped = at_c <= PROPPED_AT_C;
    if (c->propped && c->job->curve && ks_course_cools_shut(c, at_c))
        c->out->open_propped_h = (c->time_s - from_s) / S_PER_H + propped_h(c);
}

enum { STEPS_LONGER = 5, UNSEEN_STEPS_LONGER = 15 };

/* Until it may be opened, or, where nobody asks for that, until the cones have seen their all. */
static void cool(ks_course *c)
{
    double from_s = c->time_s - c->watched_s, step_s = c->job->parts.options->step_s;
    double longer = c->job->curve ? STEPS_LONGER : UNSEEN_STEPS_LONGER;
    bool whole = c->job->cooling;
    double until_c = whole ? OPEN_AT_C : fmax(c->out->top_c - CONES_STILL_K, OPEN_AT_C);
    c->point_due_s = whole ? c->time_s + COOLING_STARTS_S : INFINITY;
    c->ended = true;
    while (hottest_inside_c(&c->model.net) > until_c && c->time_s - from_s < LONGEST_COOLING_S) {
        ks_course_step(c, NAN, step_s * fmin(longer, 1 + (c->time_s - from_s) / S_PER_H));
        if (whole && !c->propped)
            note_propped(c, from_s);
    }
    bool open = hottest_inside_c(&c->model.net) <= until_c;
    if (!whole)
        return;
    c->out->open_after_hours = open ? (c->time_s - from_s) / S_PER_H : INFINITY;
    ks_course_point(c);
}

static const char *cone_words(ks_arena *arena, double place)
{
    if (place < 0)
        return ks_arena_print(arena, "below %s", ks_cone(0)->name);
    int down = (int)place;
    if (place - down > 0.85 && down + 1 < ks_cone_count())
        return ks_arena_print(arena, "%s, nearly", ks_cone(down + 1)->name);
    if (place - down < 0.15 || down + 1 >= ks_cone_count())
        return ks_cone(down)->name;
    return ks_arena_print(arena, "between %s and %s", ks_cone(down)->name, ks_cone(down + 1)->name);
}

static double ware_kg(const ks_ware_heat *ware)
{
    return ware->fired_kg + ware->water_kg + ware->hydroxyl_kg + ware->carbonate_kg +
           ware->carbon_kg;
}

static void fill_levels(ks_course *c)
{
    for (int i = 0; i < c->model.n_levels && c->job->curve; i++) {
        const ks_load_level *from = &c->job->parts.load->levels[i];
        ks_level_fired *level = &c->out->levels[ks_course_level(c, i)];
        level->level = from->level;
        level->ware_kg = ware_kg(&from->edge) + ware_kg(&from->middle);
        level->furniture_kg = ks_level_furniture_kg(from);
        level->cone_edge = ks_witness_cone(&c->cones, &c->edge[i]);
        level->cone_middle = ks_witness_cone(&c->cones, &c->middle[i]);
        level->cone_text = cone_words(c->arena, 0.5 * (level->cone_edge + level->cone_middle));
    }
}

/* The same lining may stand behind several hot faces: the hottest counts. */
static void fill_lining(ks_course *c, const char *where, const ks_lining *lining, int first,
                        const ks_layers *stack)
{
    for (int l = 0; l < lining->n_layers; l++) {
        const ks_fire_material *row =
            ks_material_find(c->job->parts.options->materials, lining->layers[l].material);
        ks_layer_fired *layer = &c->out->layers[first + l];
        *layer = (ks_layer_fired){where, row->name, l == 0,
                                  fmax(layer->peak_c, stack->layer_peak_c[l]), row->limit_c};
    }
}

static void fill_linings(ks_course *c)
{
    const ks_heat *heat = &c->job->parts.kiln->heat;
    const ks_fired_model *model = &c->model;
    int wall = heat->wall.n_layers, lid = heat->lid.n_layers;
    c->out->n_layers = wall + lid + heat->floor.n_layers;
    c->out->layers = KS_TAKE(c->arena, c->out->n_layers, ks_layer_fired);
    for (int i = 0; i < model->n_levels; i++)
        fill_lining(c, "wall", &heat->wall, 0, model->net.nodes[model->levels[i].face].stack);
    fill_lining(c, "lid", &heat->lid, wall, model->net.nodes[model->lid].stack);
    fill_lining(c, "floor", &heat->floor, wall + lid, model->net.nodes[model->floor].stack);
}

static void fill_power(ks_course *c)
{
    const ks_fired_kiln *kiln = c->job->parts.kiln;
    ks_firing_result *out = c->out;
    double peak_w = kiln->fuel ? c->fuel_w_most : kiln->supply_w;
    out->peak_kw = peak_w / 1000;
    out->demand_kw = c->ledger.demand_w / 1000;
    if (kiln->fuel) {
        bool propane = strcmp(kiln->fuel->name, "propane") == 0;
        out->fuel_kg = propane ? out->energy.total / kiln->fuel->hhv_kwh_kg : 0;
        out->fuel_m3 = propane ? 0 : out->energy.total / kiln->fuel->hhv_kwh_m3;
        return;
    }
    double volts = c->job->parts.options->volts > 0 ? c->job->parts.options->volts
                   : kiln->heat.supply_volts > 0    ? kiln->heat.supply_volts
                                                    : kiln->heat.rated_volts;
    if (volts > 0)
        out->amps = peak_w / volts / (kiln->heat.phases == 3 ? sqrt(3) : 1);
    out->circuit_amps = 1.25 * out->amps;
}

/* A cone that bends end_k hotter takes exp(end_k E / R T^2) times the work. */
static double end_goal(const ks_course *c)
{
    int cone = c->job->end_cone;
    if (cone < 0)
        return 1;
    double temp_k = c->cones.usual_c[cone] + ZERO_C_IN_K;
    return exp(c->job->parts.slant.end_k * c->cones.work[cone].energy_kj_mol / 8.314e-3 / temp_k /
               temp_k);
}

static void prepare(ks_course *c)
{
    int n = c->model.n_levels;
    c->edge = KS_TAKE(c->arena, n, ks_witness);
    c->middle = KS_TAKE(c->arena, n, ks_witness);
    ks_cone_row_work_fill(&c->cones);
    ks_ledger_start(&c->ledger, &c->model.net);
    c->out->segments = KS_TAKE(c->arena, c->job->schedule->n_segments, ks_segment_fired);
    c->out->n_levels = c->job->curve ? n : 0;
    c->out->levels = KS_TAKE(c->arena, n, ks_level_fired);
    c->end_goal = end_goal(c);
    c->coast_h = NAN;
    c->switched = 1;
    c->set_c = ks_course_reading_c(c);
    ks_course_point(c);
    if (c->job->by_hand)
        c->set_c = NAN;
    c->point_due_s = COOLING_STARTS_S;
}

ks_status ks_run(const ks_run_job *job, ks_arena *arena, ks_firing_result *out, ks_error *err)
{
    ks_course c = {.job = job, .arena = arena, .out = out};
    *out = (ks_firing_result){.open_after_hours = NAN,
                              .open_propped_h = NAN,
                              .cone_down_h = NAN,
                              .open_c = OPEN_AT_C,
                              .propped_from_c = PROPPED_AT_C};
    ks_status status = ks_fired_model_of(&job->parts, arena, &c.model, err);
    if (status)
        return status;
    prepare(&c);
    if (job->by_hand)
        ks_course_by_hand(&c);
    else
        ks_course_schedule(&c);
    out->hours = (c.time_s - c.watched_s) / S_PER_H;
    out->energy = ks_ledger_energy(&c.ledger, &c.model.net);
    out->schedule = *job->schedule;
    double in_j = c.ledger.in_j;
    if (job->cooling || job->curve)
        cool(&c);
    out->ledger_residual = in_j > 0 ? c.ledger.worst_j / in_j : 0;
    fill_levels(&c);
    fill_linings(&c);
    fill_power(&c);
    out->reached = !c.gave_up;
    return KS_OK;
}
