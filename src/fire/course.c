#include "fire/course.h"

#include <math.h>

#define POINT_EVERY_S 300.0
#define COOLING_POINT_EVERY_S 900.0

double ks_course_reading_c(const ks_course *c)
{
    return ks_network_reading_c(&c->model.net);
}

double ks_course_slowest_c(const ks_course *c)
{
    return ks_network_slowest_c(&c->model.net);
}

static double hottest_casing_c(const ks_network *net)
{
    double hottest = -INFINITY;
    for (int i = 0; i < net->n_nodes; i++)
        if (net->nodes[i].stack)
            hottest = fmax(hottest, net->nodes[i].stack->temp_c[net->nodes[i].stack->n - 1]);
    return hottest;
}

static double node_c(const ks_course *c, int node, int air)
{
    return c->model.net.nodes[node >= 0 ? node : air].temp_c;
}

int ks_course_level(const ks_course *c, int i)
{
    int level = c->job->parts.load->levels[i].level;
    return level < 0 ? 0 : level;
}

void ks_course_point(ks_course *c)
{
    double passed_s = c->time_s - c->point_from_s;
    if (!c->job->curve)
        return;
    int n = c->model.n_levels;
    double *edge = KS_TAKE(c->arena, 2 * n, double);
    for (int i = 0; i < n; i++) {
        const ks_level_nodes *nodes = &c->model.levels[i];
        edge[ks_course_level(c, i)] = node_c(c, nodes->edge, nodes->air);
        edge[n + ks_course_level(c, i)] =
            node_c(c, nodes->middle >= 0 ? nodes->middle : nodes->edge, nodes->air);
    }
    ks_firing_result *out = c->out;
    out->points = KS_GROW(c->arena, out->points, out->n_points, &c->points_room, ks_fire_point);
    out->points[out->n_points++] =
        (ks_fire_point){.time_h = c->time_s / S_PER_H,
                        .set_c = c->set_c,
                        .chamber_c = ks_course_reading_c(c),
                        .power_kw = passed_s > 0 ? c->point_j / passed_s / 1000 : 0,
                        .casing_c = hottest_casing_c(&c->model.net),
                        .edge_c = edge,
                        .middle_c = edge + n};
    c->point_j = 0;
    c->point_from_s = c->time_s;
}

static bool has_ware(const ks_level_nodes *nodes)
{
    return nodes->edge >= 0 || nodes->middle >= 0;
}

/* Of the levels that hold ware; of all when none does. `now` is the part of the way from where the
 * last step began. */
static double mean_rate(const ks_course *c, int cone, double now)
{
    const ks_network *net = &c->model.net;
    const ks_heat_work *work = &c->cones.work[cone];
    double sum = 0, sum_all = 0;
    int n = 0;
    for (int i = 0; i < c->model.n_levels; i++) {
        const ks_level_nodes *nodes = &c->model.levels[i];
        const ks_node *node = &net->nodes[nodes->edge >= 0     ? nodes->edge
                                          : nodes->middle >= 0 ? nodes->middle
                                                               : nodes->air];
        double rate = ks_heat_work_rate(work, node->old_c + now * (node->temp_c - node->old_c));
        sum += has_ware(nodes) ? rate : 0;
        sum_all += rate;
        n += has_ware(nodes);
    }
    return n > 0 ? sum / n : sum_all / c->model.n_levels;
}

static double mean_work(const ks_course *c, int cone, double dt_s)
{
    return mean_rate(c, cone, 0.5) * dt_s / S_PER_H;
}

static void add_work(ks_course *c, double dt_s)
{
    const ks_network *net = &c->model.net;
    for (int i = 0; i < c->model.n_levels && c->job->curve; i++) {
        const ks_level_nodes *nodes = &c->model.levels[i];
        const ks_node *edge = &net->nodes[nodes->edge >= 0 ? nodes->edge : nodes->air];
        const ks_node *middle = nodes->middle >= 0 ? &net->nodes[nodes->middle] : edge;
        ks_witness_add(&c->cones, &c->edge[i], 0.5 * (edge->temp_c + edge->old_c), dt_s / S_PER_H);
        ks_witness_add(&c->cones, &c->middle[i], 0.5 * (middle->temp_c + middle->old_c),
                       dt_s / S_PER_H);
    }
}

static void note_level_peaks(ks_course *c, bool heating)
{
    for (int i = 0; i < c->model.n_levels && c->job->curve; i++) {
        const ks_level_nodes *nodes = &c->model.levels[i];
        ks_level_fired *level = &c->out->levels[ks_course_level(c, i)];
        double edge = node_c(c, nodes->edge >= 0 ? nodes->edge : nodes->middle, nodes->air);
        double middle = node_c(c, nodes->middle >= 0 ? nodes->middle : nodes->edge, nodes->air);
        level->peak_edge_c = fmax(level->peak_edge_c, edge);
        level->peak_middle_c = fmax(level->peak_middle_c, middle);
        if (heating)
            level->lag_k = fmax(level->lag_k, ks_course_reading_c(c) - middle);
    }
}

static void note_cone_down(ks_course *c, double dt_s)
{
    if (c->job->wanted_cone < 0 || !isnan(c->out->cone_down_h))
        return;
    if (c->cone_down && c->job->end_cone == c->job->wanted_cone && c->job->parts.slant.end_k == 0) {
        c->out->cone_down_h = c->time_s / S_PER_H; /* this very moment */
        return;
    }
    double work = mean_work(c, c->job->wanted_cone, dt_s);
    if (c->wanted_work + work >= 1 - 1e-9)
        c->out->cone_down_h = (c->time_s - dt_s * (c->wanted_work + work - 1) / work) / S_PER_H;
    c->wanted_work += work;
}

static void note_lining_peaks(ks_course *c)
{
    for (int i = 0; i < c->model.net.n_nodes; i++)
        if (c->model.net.nodes[i].stack)
            ks_stack_note_peaks(c->model.net.nodes[i].stack);
}

#define DAMPER_OPEN                                                                                \
    5.0 /* times the leakage of a shut gas kiln; with its burner ports, common practice */
#define DRYING_GAP_M 0.02
#define HAND_GAP_M 0.1
#define EXCHANGE 0.6 /* Brown & Solvason 1962, through an opening in a wall, from memory */
#define HINGED                                                                                     \
    0.424 /* mean of ((1 - cos) / 2)^1.5 round a rim: no gap at the hinge, all in front */

/* Warm air out, cold air in, past a lid that is propped at its front: (C / 3) w h^1.5 sqrt(g'),
 * summed round the rim. */
static double propped_m3_h(const ks_course *c, double gap_m)
{
    double inside_k = ks_course_reading_c(c) + ZERO_C_IN_K;
    double room_k = c->job->parts.options->room_c + ZERO_C_IN_K;
    double lighter = fmax(inside_k - room_k, 0) / inside_k;
    double flow = EXCHANGE / 3 * HINGED * c->job->parts.load->perimeter_m * pow(gap_m, 1.5) *
                  sqrt(GRAVITY * lighter);
    return flow * S_PER_H * room_k / inside_k;
}

#define USUALLY_FROM_C                                                                             \
    250.0 /* gas: shut until quartz and the glaze are past, then opened; common practice */

static ks_cool_by cools_by(const ks_course *c, double at_c)
{
    const ks_fire_options *options = c->job->parts.options;
    bool usual = options->cool_by == KS_COOLS_USUAL;
    ks_cool_by by = !usual                     ? options->cool_by
                    : c->job->parts.kiln->fuel ? KS_COOLS_DAMPER
                                               : KS_COOLS_SHUT;
    double from_c = options->cool_from_c > 0 ? options->cool_from_c
                    : usual                  ? USUALLY_FROM_C
                                             : INFINITY;
    return at_c >= from_c ? KS_COOLS_SHUT : by;
}

bool ks_course_cools_shut(const ks_course *c, double at_c)
{
    return cools_by(c, at_c) == KS_COOLS_SHUT;
}

static double cooling_m3_h(const ks_course *c, double at_c)
{
    const ks_heat *heat = &c->job->parts.kiln->heat;
    switch (cools_by(c, at_c)) {
    case KS_COOLS_DAMPER:
        return DAMPER_OPEN * heat->leak_m3_h;
    case KS_COOLS_VENT:
        return heat->leak_m3_h + heat->vent_m3_h;
    case KS_COOLS_LID_OPEN:
        return heat->leak_m3_h + propped_m3_h(c, HAND_GAP_M);
    default:
        return heat->leak_m3_h;
    }
}

/* Room air that comes in: a burner's own air is in its flue gas, and its chamber draws no more
 * while it burns; the vent runs while it is asked to. */
static double air_m3_h(const ks_course *c, bool heats)
{
    const ks_fire_options *options = c->job->parts.options;
    const ks_heat *heat = &c->job->parts.kiln->heat;
    double at_c = ks_course_reading_c(c), leak = heat->leak_m3_h;
    bool vents = options->vent_off_c <= 0 || at_c < options->vent_off_c;
    if (heats)
        return c->job->parts.kiln->fuel ? 0
                                        : leak + (vents ? heat->vent_m3_h : 0) +
                                              (c->lid_propped ? propped_m3_h(c, DRYING_GAP_M) : 0);
    return c->ended ? cooling_m3_h(c, at_c) : leak;
}

static double excess_air(const ks_course *c)
{
    bool reduces = c->job->reduces && ks_course_reading_c(c) >= REDUCES_FROM_C;
    return reduces ? -REDUCES_BY : c->job->parts.kiln->heat.excess_air;
}

static double available(const ks_course *c)
{
    const ks_fired_kiln *kiln = c->job->parts.kiln;
    if (!kiln->fuel)
        return 1;
    return fmax(ks_available_heat(kiln->fuel, excess_air(c), ks_course_reading_c(c)), 0.005);
}

static void book_step(ks_course *c, double dt_s, double power_w, double part)
{
    double fuel_w = power_w / part;
    c->time_s += dt_s;
    c->last_dt_s = dt_s;
    ks_ledger_book(&c->ledger, &c->model.net, dt_s, power_w, fuel_w - power_w);
    c->fuel_w_most = fmax(c->fuel_w_most, fuel_w);
    c->point_j += fuel_w * dt_s;
    add_work(c, dt_s);
    note_cone_down(c, dt_s);
    note_lining_peaks(c);
    note_level_peaks(c, !c->ended && power_w > 0);
    c->out->top_c = fmax(c->out->top_c, ks_course_reading_c(c));
    if (c->time_s >= c->point_due_s) {
        ks_course_point(c);
        c->point_due_s += c->ended ? COOLING_POINT_EVERY_S : POINT_EVERY_S;
    }
}

#define SHORTEST_STEP_S 0.01

/* A step that settles; drive->dt_s is cut until one does. */
static double settled_step(ks_course *c, ks_drive *drive, double rate)
{
    double power_w = 0;
    while (!ks_network_step(&c->model.net, drive, rate, &power_w)) {
        if (drive->dt_s < SHORTEST_STEP_S)
            break; /* the ledger will tell */
        ks_network_undo(&c->model.net);
        drive->dt_s /= 4;
        rate = 0;
    }
    return power_w;
}

/* The coldest zone decides: the others wait for it. */
static void note_full_power(ks_course *c, double set_c, double most_w)
{
    const ks_network *net = &c->model.net;
    for (int z = 0; z < net->n_loops; z++)
        if (ks_loop_reading_c(net, &net->loops[z]) <
            ks_loop_reading_c(net, &net->loops[c->slowest_zone]))
            c->slowest_zone = z;
    const ks_loop *slowest = &net->loops[c->slowest_zone];
    c->full_power = !isnan(set_c) && slowest->power_w >= 0.999 * slowest->part * most_w;
}

double ks_course_most_w(const ks_course *c)
{
    return c->job->parts.kiln->supply_w * c->job->parts.slant.power * available(c) * c->switched;
}

void ks_course_air(ks_course *c, bool heats)
{
    ks_fired_model_air(&c->model, c->job->parts.slant.air * air_m3_h(c, heats));
}

void ks_course_propped_air(ks_course *c)
{
    double air = c->job->parts.kiln->heat.leak_m3_h + propped_m3_h(c, HAND_GAP_M);
    ks_fired_model_air(&c->model, c->job->parts.slant.air * air);
}

#define COAST_FROM 0.25 /* of the end cone's work: near enough to the end to tell the cooling */

static double end_cone_rate(const void *of)
{
    const ks_course *c = of;
    return mean_rate(c, c->job->end_cone, 1);
}

static void look_ahead(ks_course *c)
{
    double air = cooling_m3_h(c, ks_course_reading_c(c));
    ks_coast coast = {&c->model.net,       ks_course_reading_c(c), c->fall_k_h,
                      ks_course_most_w(c), end_cone_rate,          c};
    ks_fired_model_air(&c->model, c->job->parts.slant.air * air);
    c->coast_h = ks_coast_h(&coast, c->arena, &c->kept);
}

/* The step ends where the end cone has its work, with what the cooling will add to it. */
static double end_by_cone(ks_course *c, ks_drive *drive, double power_w)
{
    double work = mean_work(c, c->job->end_cone, drive->dt_s);
    double ahead = isnan(c->coast_h) ? 0 : c->coast_h * end_cone_rate(c);
    if (c->end_work + work + ahead >= c->end_goal) {
        double part = (c->end_goal - c->end_work - ahead) / work;
        drive->dt_s = fmax(drive->dt_s * fmin(part, 1), SHORTEST_STEP_S);
        ks_network_undo(&c->model.net);
        power_w = settled_step(c, drive, 0);
        work = mean_work(c, c->job->end_cone, drive->dt_s);
        c->cone_down = true;
    }
    c->end_work += work;
    return power_w;
}

void ks_course_step(ks_course *c, double set_c, double dt_s)
{
    bool awaits_cone = c->job->end_cone >= 0 && !c->cone_down;
    if (awaits_cone && isnan(c->coast_h) && c->end_work >= COAST_FROM * c->end_goal)
        look_ahead(c);
    double part = available(c);
    double most_w = ks_course_most_w(c);
    ks_drive drive = {dt_s, set_c, most_w};
    c->set_c = c->job->by_hand ? NAN : set_c;
    ks_fired_model_air(&c->model, c->job->parts.slant.air * air_m3_h(c, !isnan(set_c)));
    double power_w = settled_step(c, &drive, c->last_dt_s > 0 ? dt_s / c->last_dt_s : 0);
    if (awaits_cone)
        power_w = end_by_cone(c, &drive, power_w);
    note_full_power(c, set_c, most_w);
    book_step(c, drive.dt_s, power_w, part);
}
