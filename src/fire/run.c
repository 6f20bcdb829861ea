#include "fire/run.h"

#include "fire/ledger.h"
#include "fire/work.h"

#include <math.h>
#include <string.h>

#define S_PER_H 3600.0
#define LEAD_K 10.0      /* the set point waits when the kiln is further behind */
#define THERE_K 0.5      /* near enough to the target */
#define FELL_BEHIND_K 5.0
#define STALL_S 1800.0
#define STALL_K 1.0
#define LONGEST_HEATING_S (200 * S_PER_H)
#define LONGEST_COOLING_S (240 * S_PER_H)
#define LONGEST_WAIT_FOR_CONE_S (3 * S_PER_H)
#define POINT_EVERY_S 300.0
#define COOLING_POINT_EVERY_S 900.0

typedef struct {
    const ks_run_job *job;
    ks_arena *arena;
    ks_firing_result *out;
    ks_fired_model model;
    ks_ledger ledger;
    ks_cone_row_work cones;
    ks_witness *edge, *middle; /* by level */
    double end_work, end_goal; /* of end_cone, mean over the levels' edges; usually 1 */
    double time_s, set_c, last_dt_s;
    bool full_power, gave_up, cone_down;
    double zone_rating[ZONES_MOST], zone_trim[ZONES_MOST]; /* rating: share of the power */
    double fuel_w_most;
    double point_due_s, point_j, point_from_s;
    int points_room;
} firing;

static double reading_c(const firing *f)
{
    return ks_network_reading_c(&f->model.net);
}

/* ---- points of the curve */

static double hottest_casing_c(const ks_network *net)
{
    double hottest = -INFINITY;
    for (int i = 0; i < net->n_nodes; i++)
        if (net->nodes[i].stack)
            hottest = fmax(hottest, net->nodes[i].stack->temp_c[net->nodes[i].stack->n - 1]);
    return hottest;
}

static double node_c(const firing *f, int node, int air)
{
    return f->model.net.nodes[node >= 0 ? node : air].temp_c;
}

/* Levels of the heat load lie from below; results follow load.levels. */
static int result_level(const firing *f, int i)
{
    int level = f->job->parts.load->levels[i].level;
    return level < 0 ? 0 : level;
}

static void add_point(firing *f)
{
    double passed_s = f->time_s - f->point_from_s;
    if (!f->job->curve)
        return;
    int n = f->model.n_levels;
    double *edge = KS_TAKE(f->arena, 2 * n, double);
    for (int i = 0; i < n; i++) {
        const ks_level_nodes *nodes = &f->model.levels[i];
        edge[result_level(f, i)] = node_c(f, nodes->edge, nodes->air);
        edge[n + result_level(f, i)] = node_c(f, nodes->middle >= 0 ? nodes->middle : nodes->edge,
                                              nodes->air);
    }
    ks_firing_result *out = f->out;
    out->points = KS_GROW(f->arena, out->points, out->n_points, &f->points_room, ks_fire_point);
    out->points[out->n_points++] =
        (ks_fire_point){.time_h = f->time_s / S_PER_H,
                        .set_c = f->set_c,
                        .chamber_c = reading_c(f),
                        .power_kw = passed_s > 0 ? f->point_j / passed_s / 1000 : 0,
                        .casing_c = hottest_casing_c(&f->model.net),
                        .edge_c = edge,
                        .middle_c = edge + n};
    f->point_j = 0;
    f->point_from_s = f->time_s;
}

/* ---- one step */

static double work_of_end(const firing *f, double dt_s)
{
    const ks_network *net = &f->model.net;
    const ks_heat_work *work = &f->cones.work[f->job->end_cone];
    double sum = 0;
    for (int i = 0; i < f->model.n_levels; i++) {
        const ks_level_nodes *nodes = &f->model.levels[i];
        const ks_node *node = &net->nodes[nodes->edge >= 0 ? nodes->edge
                                          : nodes->middle >= 0 ? nodes->middle : nodes->air];
        sum += ks_heat_work_rate(work, 0.5 * (node->temp_c + node->old_c));
    }
    return sum / f->model.n_levels * dt_s / S_PER_H;
}

static void add_work(firing *f, double dt_s)
{
    const ks_network *net = &f->model.net;
    for (int i = 0; i < f->model.n_levels && f->job->curve; i++) {
        const ks_level_nodes *nodes = &f->model.levels[i];
        const ks_node *edge = &net->nodes[nodes->edge >= 0 ? nodes->edge : nodes->air];
        const ks_node *middle = nodes->middle >= 0 ? &net->nodes[nodes->middle] : edge;
        ks_witness_add(&f->cones, &f->edge[i], 0.5 * (edge->temp_c + edge->old_c), dt_s / S_PER_H);
        ks_witness_add(&f->cones, &f->middle[i], 0.5 * (middle->temp_c + middle->old_c),
                       dt_s / S_PER_H);
    }
}

static void note_level_peaks(firing *f, bool heating)
{
    for (int i = 0; i < f->model.n_levels && f->job->curve; i++) {
        const ks_level_nodes *nodes = &f->model.levels[i];
        ks_level_fired *level = &f->out->levels[result_level(f, i)];
        double edge = node_c(f, nodes->edge >= 0 ? nodes->edge : nodes->middle, nodes->air);
        double middle = node_c(f, nodes->middle >= 0 ? nodes->middle : nodes->edge, nodes->air);
        level->peak_edge_c = fmax(level->peak_edge_c, edge);
        level->peak_middle_c = fmax(level->peak_middle_c, middle);
        if (heating)
            level->lag_k = fmax(level->lag_k, reading_c(f) - middle);
    }
}

/* Zones with a thermocouple each are steered apart: a colder one gets more of the power. */
#define TRIM_PER_K_H 1.2
#define LEAST_TRIM 0.3

static double zone_reading_c(const firing *f, int z)
{
    double sum = 0, weight = 0;
    for (int i = 0; i < f->model.n_levels; i++) {
        double part = f->model.zone_part[i * f->model.n_zones + z];
        sum += part * f->model.net.nodes[f->model.levels[i].air].temp_c;
        weight += part;
    }
    return sum / weight;
}

static void share_power(firing *f)
{
    double weights[ZONES_MOST], sum = 0;
    for (int z = 0; z < f->model.n_zones; z++)
        sum += weights[z] = f->zone_rating[z] * f->zone_trim[z];
    for (int z = 0; z < f->model.n_zones; z++)
        weights[z] /= sum;
    ks_fired_model_share(&f->model, weights);
}

static bool steers_zones(const firing *f)
{
    return f->job->parts.kiln->n_sensors >= 2 && f->model.n_zones >= 2;
}

static void trim_zones(firing *f, double dt_s)
{
    double most = 0;
    if (!steers_zones(f) || f->time_s < 600)
        return;
    double mean_c = 0;
    for (int z = 0; z < f->model.n_zones; z++)
        mean_c += zone_reading_c(f, z) / f->model.n_zones;
    for (int z = 0; z < f->model.n_zones; z++) {
        double push = TRIM_PER_K_H * (mean_c - zone_reading_c(f, z)) * dt_s / S_PER_H;
        f->zone_trim[z] *= exp(fmin(fmax(push, -0.2), 0.2));
        most = fmax(most, f->zone_trim[z]);
    }
    for (int z = 0; z < f->model.n_zones; z++)
        f->zone_trim[z] = fmax(f->zone_trim[z] / most, LEAST_TRIM);
    share_power(f);
}

/* What all zones together may give when the weakest trim holds some of them back. */
static double zones_limit(const firing *f)
{
    double sum = 0;
    for (int z = 0; z < f->model.n_zones; z++)
        sum += f->zone_rating[z] * f->zone_trim[z];
    return sum;
}

static double available(const firing *f)
{
    const ks_fired_kiln *kiln = f->job->parts.kiln;
    if (!kiln->fuel)
        return 1;
    return fmax(ks_available_heat(kiln->fuel, kiln->heat.excess_air, reading_c(f)), 0.005);
}

static void book_step(firing *f, double dt_s, double power_w, double part)
{
    double fuel_w = power_w / part;
    f->time_s += dt_s;
    f->last_dt_s = dt_s;
    ks_ledger_book(&f->ledger, &f->model.net, dt_s, power_w, fuel_w - power_w);
    f->fuel_w_most = fmax(f->fuel_w_most, fuel_w);
    f->point_j += fuel_w * dt_s;
    add_work(f, dt_s);
    note_level_peaks(f, !isnan(f->set_c) && power_w > 0);
    f->out->top_c = fmax(f->out->top_c, reading_c(f));
    trim_zones(f, dt_s);
    if (f->time_s >= f->point_due_s) {
        add_point(f);
        f->point_due_s += isnan(f->set_c) ? COOLING_POINT_EVERY_S : POINT_EVERY_S;
    }
}

/* Takes a step towards set_c; when the end cone goes down in it, only as much of it as that takes. */
static void take_step(firing *f, double set_c, double dt_s)
{
    double part = available(f);
    double most_w = f->job->parts.kiln->supply_w * f->job->parts.slant.power * part * zones_limit(f);
    ks_drive drive = {dt_s, set_c, most_w};
    f->set_c = set_c;
    double rate = f->last_dt_s > 0 ? dt_s / f->last_dt_s : 0;
    double power_w = ks_network_step(&f->model.net, &drive, rate);
    if (f->job->end_cone >= 0 && !f->cone_down) {
        double work = work_of_end(f, dt_s);
        if (f->end_work + work >= f->end_goal) {
            drive.dt_s = fmax(dt_s * (f->end_goal - f->end_work) / work, 0.01);
            ks_network_undo(&f->model.net);
            power_w = ks_network_step(&f->model.net, &drive, 0);
            work = work_of_end(f, drive.dt_s);
            f->cone_down = true;
        }
        f->end_work += work;
    }
    f->full_power = !isnan(set_c) && power_w >= 0.999 * most_w;
    book_step(f, drive.dt_s, power_w, part);
}

/* ---- segments */

typedef struct {
    const ks_segment *asked;
    ks_segment_fired *went;
    bool up, last_heating;
    double mark_c, mark_s; /* for stalling */
    double left_s;
} segment_run;

static void note_following(firing *f, segment_run *s)
{
    double behind_k = s->up ? f->set_c - reading_c(f) : reading_c(f) - f->set_c;
    if (!s->went->followed || !(behind_k > FELL_BEHIND_K))
        return;
    s->went->followed = false;
    s->went->left_at_c = reading_c(f);
    s->left_s = f->time_s;
}

static bool stalled(firing *f, segment_run *s)
{
    if (f->time_s - s->mark_s < STALL_S)
        return false;
    bool stuck = s->up && f->full_power && reading_c(f) - s->mark_c < STALL_K &&
                 s->asked->target_c - reading_c(f) > THERE_K;
    s->mark_c = reading_c(f);
    s->mark_s = f->time_s;
    return stuck;
}

/* The next set point, and in *dt_s a step that ends on the target when that is near. */
static double next_set_c(const firing *f, const segment_run *s, double *dt_s)
{
    double rate_k_s = fabs(s->asked->rate_c_h) / S_PER_H, target_c = s->asked->target_c;
    if (rate_k_s == 0)
        return s->up ? target_c : NAN;
    double left_k = s->up ? target_c - f->set_c : f->set_c - target_c;
    if (left_k <= 0)
        return target_c;
    *dt_s = fmin(*dt_s, fmax(left_k / rate_k_s, 1));
    double set_c = f->set_c + (s->up ? 1 : -1) * fmin(rate_k_s * *dt_s, left_k);
    double limit_c = reading_c(f) + (s->up ? 1 : -1) * (LEAD_K + rate_k_s * *dt_s);
    return s->up ? fmax(fmin(set_c, limit_c), f->set_c) : fmin(fmax(set_c, limit_c), f->set_c);
}

static bool segment_over(const firing *f, const segment_run *s)
{
    double target_c = s->asked->target_c;
    if (f->cone_down && s->last_heating)
        return true;
    return s->up ? reading_c(f) >= target_c - THERE_K : reading_c(f) <= target_c + THERE_K;
}

static bool out_of_time(firing *f, segment_run *s)
{
    if (f->time_s < LONGEST_HEATING_S && !stalled(f, s))
        return false;
    f->gave_up = true;
    s->went->followed = false;
    if (isnan(s->went->left_at_c))
        s->went->left_at_c = reading_c(f);
    return true;
}

static void ramp(firing *f, segment_run *s)
{
    double step_s = f->job->parts.options->step_s;
    bool falls_freely = !s->up && s->asked->rate_c_h == 0;
    if (isnan(f->set_c))
        f->set_c = reading_c(f);
    while (!segment_over(f, s)) {
        double dt_s = step_s;
        double set_c = next_set_c(f, s, &dt_s);
        take_step(f, set_c, dt_s);
        if (!falls_freely)
            note_following(f, s);
        if (out_of_time(f, s))
            return;
    }
}

static void hold(firing *f, segment_run *s)
{
    double left_s = s->asked->hold_h * S_PER_H;
    bool awaits_cone = s->last_heating && f->job->end_cone >= 0;
    double most_s = awaits_cone ? fmax(left_s, LONGEST_WAIT_FOR_CONE_S) : left_s;
    while (!f->gave_up && most_s > 0 && !(awaits_cone && f->cone_down)) {
        double dt_s = fmin(f->job->parts.options->step_s, most_s);
        take_step(f, s->asked->target_c, dt_s);
        note_following(f, s);
        most_s -= dt_s;
    }
    if (awaits_cone && !f->cone_down)
        f->gave_up = true;
}

static const char *said_instead(const firing *f, const segment_run *s)
{
    double hours = (f->time_s - s->left_s) / S_PER_H;
    double by_k = fabs(reading_c(f) - s->went->left_at_c);
    if (s->went->followed)
        return "";
    if (f->gave_up && f->job->end_cone >= 0 && s->last_heating && !f->full_power)
        return ks_arena_print(f->arena, "waits 3 h at %.0f C for the cone and gives up",
                              reading_c(f));
    if (f->gave_up)
        return ks_arena_print(f->arena, "stops rising at %.0f C with all power on", reading_c(f));
    if (s->up)
        return ks_arena_print(f->arena, "climbs at full power from %.0f C, at %.0f C/h",
                              s->went->left_at_c, hours > 0 ? by_k / hours : 0);
    return ks_arena_print(f->arena, "cools by itself from %.0f C, at %.0f C/h", s->went->left_at_c,
                          hours > 0 ? by_k / hours : 0);
}

static void run_segment(firing *f, int i, bool last_heating)
{
    const ks_segment *asked = &f->job->schedule->segments[i];
    ks_segment_fired *went = &f->out->segments[i];
    *went = (ks_segment_fired){.asked = *asked,
                               .from_c = reading_c(f),
                               .followed = true,
                               .left_at_c = NAN,
                               .reason = f->job->reasons ? f->job->reasons[i] : ""};
    segment_run s = {asked, went, asked->target_c >= reading_c(f), last_heating,
                     reading_c(f), f->time_s, f->time_s};
    double start_s = f->time_s;
    ramp(f, &s);
    hold(f, &s);
    went->to_c = reading_c(f);
    went->hours = (f->time_s - start_s) / S_PER_H;
    went->instead = said_instead(f, &s);
    add_point(f);
}

static int last_heating_segment(const ks_schedule *schedule)
{
    int hottest = 0;
    for (int i = 1; i < schedule->n_segments; i++)
        if (schedule->segments[i].target_c >= schedule->segments[hottest].target_c)
            hottest = i;
    return hottest;
}

static void run_schedule(firing *f)
{
    const ks_schedule *schedule = f->job->schedule;
    int last = last_heating_segment(schedule);
    for (int i = 0; i < schedule->n_segments && !f->gave_up; i++) {
        run_segment(f, i, i == last);
        f->out->n_segments = i + 1;
        if (f->cone_down && i < last)
            i = last - 1; /* the cone is down before its segment: what is left is skipped */
    }
}

/* ---- cooling */

static double hottest_inside_c(const ks_network *net)
{
    double hottest = -INFINITY;
    for (int i = 0; i < net->n_nodes; i++)
        if (net->nodes[i].kind != KS_FACE_NODE)
            hottest = fmax(hottest, net->nodes[i].temp_c);
    return hottest;
}

static void cool(firing *f)
{
    double from_s = f->time_s, step_s = f->job->parts.options->step_s;
    f->point_due_s = f->time_s + POINT_EVERY_S;
    while (hottest_inside_c(&f->model.net) > OPEN_AT_C && f->time_s - from_s < LONGEST_COOLING_S) {
        take_step(f, NAN, step_s * fmin(5, 1 + (f->time_s - from_s) / S_PER_H));
    }
    bool open = hottest_inside_c(&f->model.net) <= OPEN_AT_C;
    f->out->open_after_hours = open ? (f->time_s - from_s) / S_PER_H : INFINITY;
    add_point(f);
}

/* ---- results */

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

static void fill_levels(firing *f)
{
    for (int i = 0; i < f->model.n_levels && f->job->curve; i++) {
        const ks_load_level *from = &f->job->parts.load->levels[i];
        ks_level_fired *level = &f->out->levels[result_level(f, i)];
        level->level = from->level;
        level->ware_kg = ware_kg(&from->edge) + ware_kg(&from->middle);
        level->furniture_kg = ks_level_furniture_kg(from);
        level->cone_edge = ks_witness_cone(&f->cones, &f->edge[i]);
        level->cone_middle = ks_witness_cone(&f->cones, &f->middle[i]);
        level->cone_text =
            cone_words(f->arena, 0.5 * (level->cone_edge + level->cone_middle));
    }
}

#define NEARLY_DOWN 0.8

/* Whether the cone asked for is down, or nearly, on the average of the levels. */
static bool wanted_cone_seen(const firing *f)
{
    double sum = 0;
    if (f->job->wanted_cone < 0 || f->cone_down || !f->job->curve)
        return true;
    for (int i = 0; i < f->model.n_levels; i++)
        sum += fmin(f->edge[i].bent[f->job->wanted_cone], 1);
    return sum / f->model.n_levels >= NEARLY_DOWN;
}

static void fill_power(firing *f)
{
    const ks_fired_kiln *kiln = f->job->parts.kiln;
    ks_firing_result *out = f->out;
    double peak_w = kiln->fuel ? f->fuel_w_most : kiln->supply_w;
    out->peak_kw = peak_w / 1000;
    out->demand_kw = f->ledger.demand_w / 1000;
    if (kiln->fuel) {
        bool propane = strcmp(kiln->fuel->name, "propane") == 0;
        out->fuel_kg = propane ? out->energy.total / kiln->fuel->hhv_kwh_kg : 0;
        out->fuel_m3 = propane ? 0 : out->energy.total / kiln->fuel->hhv_kwh_m3;
        return;
    }
    double volts = f->job->parts.options->volts > 0 ? f->job->parts.options->volts
                   : kiln->heat.supply_volts > 0    ? kiln->heat.supply_volts
                                                    : kiln->heat.rated_volts;
    if (volts > 0)
        out->amps = peak_w / volts / (kiln->heat.phases == 3 ? sqrt(3) : 1);
    out->circuit_amps = 1.25 * out->amps;
}

/* A cone that bends end_k hotter takes exp(end_k E / R T^2) times the work. */
static double end_goal(const firing *f)
{
    int cone = f->job->end_cone;
    if (cone < 0)
        return 1;
    double temp_k = f->cones.usual_c[cone] + ZERO_C_IN_K;
    return exp(f->job->parts.slant.end_k * f->cones.work[cone].energy_kj_mol / 8.314e-3 / temp_k /
               temp_k);
}

static void prepare(firing *f)
{
    int n = f->model.n_levels;
    f->edge = KS_TAKE(f->arena, n, ks_witness);
    f->middle = KS_TAKE(f->arena, n, ks_witness);
    ks_cone_row_work_fill(&f->cones);
    ks_ledger_start(&f->ledger, &f->model.net);
    f->out->segments = KS_TAKE(f->arena, f->job->schedule->n_segments, ks_segment_fired);
    f->out->n_levels = f->job->curve ? n : 0;
    f->out->levels = KS_TAKE(f->arena, n, ks_level_fired);
    f->end_goal = end_goal(f);
    double sum = 0;
    for (int z = 0; z < f->model.n_zones; z++) {
        f->zone_trim[z] = 1;
        sum += f->zone_rating[z] = fmax(f->job->parts.kiln->heat.zones[z].share, 0);
    }
    for (int z = 0; z < f->model.n_zones; z++)
        f->zone_rating[z] = sum > 0 ? f->zone_rating[z] / sum : 1.0 / f->model.n_zones;
    f->set_c = reading_c(f);
    add_point(f);
    f->point_due_s = POINT_EVERY_S;
}

ks_status ks_run(const ks_run_job *job, ks_arena *arena, ks_firing_result *out, ks_error *err)
{
    firing f = {.job = job, .arena = arena, .out = out};
    *out = (ks_firing_result){.open_after_hours = NAN, .open_c = OPEN_AT_C};
    ks_status status = ks_fired_model_of(&job->parts, arena, &f.model, err);
    if (status)
        return status;
    prepare(&f);
    run_schedule(&f);
    out->hours = f.time_s / S_PER_H;
    out->energy = ks_ledger_energy(&f.ledger, &f.model.net);
    out->schedule = *job->schedule;
    double in_j = f.ledger.in_j;
    if (job->cooling)
        cool(&f);
    out->ledger_residual = in_j > 0 ? f.ledger.worst_j / in_j : 0;
    fill_levels(&f);
    fill_power(&f);
    out->reached = !f.gave_up && wanted_cone_seen(&f);
    return KS_OK;
}
