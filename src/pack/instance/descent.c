#include "pack/instance/descent.h"

#include <math.h>
#include <string.h>

#define DEGREES_PER_RADIAN 57.29577951308232

void ks_descent_init(ks_descent *descent, ks_packing *packing, int64_t *work, ks_arena *arena)
{
    int values = 3 * packing->room + 1;
    *descent = (ks_descent){.packing = packing, .room = values};
    ks_penalty_init(&descent->penalty, packing, work, arena);
    descent->at = KS_TAKE(arena, packing->room, int);
    double *room = KS_TAKE(arena, (5 + 2 * KS_RELAX_MEMORY) * values, double);
    double **each[] = {&descent->value, &descent->slope, &descent->old_value, &descent->old_slope,
                       &descent->way};
    for (int k = 0; k < 5; k++, room += values)
        *each[k] = room;
    for (int k = 0; k < KS_RELAX_MEMORY; k++, room += 2 * values) {
        descent->step[k] = room;
        descent->change[k] = room + values;
    }
    for (int f = 0; f < packing->instance->n_fixtures; f++)
        descent->posts_turn = descent->posts_turn || packing->instance->fixtures[f].turns;
    descent->contact_room = 20 * packing->room + 40;
    descent->contacts = KS_TAKE(arena, descent->contact_room, ks_contact);
    descent->counts = KS_TAKE(arena, descent->contact_room, bool);
    int polished = values < KS_POLISH_MOST ? values : KS_POLISH_MOST;
    descent->matrix = KS_TAKE(arena, polished * polished, double);
    descent->move = KS_TAKE(arena, polished, double);
    descent->posts_turn = descent->posts_turn && packing->instance->space.posts_free;
}

static const ks_item_type *kind_of(const ks_packing *packing, int i)
{
    return &packing->instance->kinds[packing->kind[i]];
}

double ks_relax_arm(const ks_item_type *kind)
{
    return 0.6 * kind->reach;
}

double ks_relax_post_arm(const ks_packing *packing)
{
    return packing->instance->box.x1 - packing->instance->box.x0;
}

static void take_values(ks_descent *descent)
{
    const ks_packing *packing = descent->packing;
    int n = 0;
    for (int i = descent->from; i < descent->to; i++) {
        const ks_item_type *kind = kind_of(packing, i);
        descent->at[i] = n;
        descent->value[n++] = packing->place[i].x;
        descent->value[n++] = packing->place[i].y;
        if (kind->n_turns == 0)
            descent->value[n++] =
                packing->place[i].turn_deg / DEGREES_PER_RADIAN * ks_relax_arm(kind);
    }
    if (descent->turns_posts)
        descent->value[n++] =
            packing->post_turn_deg / DEGREES_PER_RADIAN * ks_relax_post_arm(packing);
    descent->n_values = n;
}

void ks_relax_show(ks_descent *descent)
{
    ks_packing *packing = descent->packing;
    for (int i = descent->from; i < descent->to; i++) {
        const ks_item_type *kind = kind_of(packing, i);
        const double *value = descent->value + descent->at[i];
        ks_placement place = {value[0], value[1], packing->place[i].turn_deg};
        if (kind->n_turns == 0)
            place.turn_deg = value[2] / ks_relax_arm(kind) * DEGREES_PER_RADIAN;
        ks_packing_move(packing, i, place);
    }
    if (descent->turns_posts)
        ks_packing_turn_posts(packing, descent->value[descent->n_values - 1] /
                                           ks_relax_post_arm(packing) * DEGREES_PER_RADIAN);
}

/* Strain and slope at the values. */
static double measure(ks_descent *descent)
{
    const ks_packing *packing = descent->packing;
    bool one = descent->to == descent->from + 1;
    double penalty = one ? ks_penalty_one(&descent->penalty, descent->from,
                                          &descent->penalty.pull[descent->from])
                         : ks_penalty_all(&descent->penalty);
    for (int i = descent->from; i < descent->to; i++) {
        double *slope = descent->slope + descent->at[i];
        const ks_item_type *kind = kind_of(packing, i);
        slope[0] = descent->penalty.pull[i].x;
        slope[1] = descent->penalty.pull[i].y;
        if (kind->n_turns == 0)
            slope[2] = descent->penalty.pull[i].turn / ks_relax_arm(kind);
    }
    if (descent->turns_posts)
        descent->slope[descent->n_values - 1] =
            descent->penalty.post_pull / ks_relax_post_arm(packing);
    return penalty;
}

static void add_to(double *a, double times, const double *b, int n)
{
    for (int i = 0; i < n; i++)
        a[i] += times * b[i];
}

/* The way downhill as the remembered steps see it. */
static void find_way(ks_descent *descent)
{
    int n = descent->n_values;
    double weight[KS_RELAX_MEMORY];
    for (int i = 0; i < n; i++)
        descent->way[i] = -descent->slope[i];
    for (int k = 0; k < descent->n_kept; k++) {
        int m = (descent->newest - k + KS_RELAX_MEMORY) % KS_RELAX_MEMORY;
        weight[m] = ks_relax_dot(descent->step[m], descent->way, n) / descent->curve[m];
        add_to(descent->way, -weight[m], descent->change[m], n);
    }
    double scale = 0.25;
    if (descent->n_kept > 0) {
        const double *change = descent->change[descent->newest];
        scale = descent->curve[descent->newest] / ks_relax_dot(change, change, n);
    }
    for (int i = 0; i < n; i++)
        descent->way[i] *= scale;
    for (int k = descent->n_kept - 1; k >= 0; k--) {
        int m = (descent->newest - k + KS_RELAX_MEMORY) % KS_RELAX_MEMORY;
        double back = ks_relax_dot(descent->change[m], descent->way, n) / descent->curve[m];
        add_to(descent->way, weight[m] - back, descent->step[m], n);
    }
}

static double longest_stride(const ks_descent *descent)
{
    double most = 0;
    for (int i = 0; i < descent->n_values; i++) {
        double stride = fabs(descent->way[i]);
        most = stride > most ? stride : most;
    }
    return most;
}

/* Remembers the step from the old values to the new; forgets all when it curves the wrong way. */
static void step_kept(ks_descent *descent)
{
    int n = descent->n_values, m = (descent->newest + 1) % KS_RELAX_MEMORY;
    for (int i = 0; i < n; i++) {
        descent->step[m][i] = descent->value[i] - descent->old_value[i];
        descent->change[m][i] = descent->slope[i] - descent->old_slope[i];
    }
    double curve = ks_relax_dot(descent->step[m], descent->change[m], n);
    if (curve <= 1e-12 * ks_relax_dot(descent->change[m], descent->change[m], n))
        return;
    descent->curve[m] = curve;
    descent->newest = m;
    descent->n_kept += descent->n_kept < KS_RELAX_MEMORY;
}

/* Lists the pairs anew when a step so long could bring two together that are not listed. Steps get
 * shorter as the penalty falls, and so does the skin. */
static void listed_for(ks_descent *descent, double move_mm)
{
    if (descent->to == descent->from + 1 || descent->gone_mm + move_mm <= descent->penalty.skin_mm)
        return;
    ks_penalty_list(&descent->penalty, 4 * move_mm);
    descent->gone_mm = 0;
}

/* One step downhill, shortened until the penalty falls; false when it cannot. */
static bool take_step(ks_descent *descent)
{
    int n = descent->n_values;
    size_t bytes = (size_t)n * sizeof(double);
    find_way(descent);
    double down = ks_relax_dot(descent->way, descent->slope, n), before = descent->penalty_mm2;
    if (down >= 0) {
        descent->n_kept = 0;
        find_way(descent);
        down = ks_relax_dot(descent->way, descent->slope, n);
    }
    double stride = longest_stride(descent);
    double along = stride > descent->stride_mm ? descent->stride_mm / stride : 1;
    listed_for(descent, 1.5 * along * stride);
    memcpy(descent->old_value, descent->value, bytes);
    memcpy(descent->old_slope, descent->slope, bytes);
    for (int attempt = 0; attempt < 10; attempt++, along *= 0.4) {
        memcpy(descent->value, descent->old_value, bytes);
        add_to(descent->value, along, descent->way, n);
        ks_relax_show(descent);
        descent->penalty_mm2 = measure(descent);
        if (descent->penalty_mm2 <= before + 1e-4 * along * down) {
            descent->gone_mm += 1.5 * along * stride;
            step_kept(descent);
            return true;
        }
    }
    return false;
}

static bool done(const ks_descent *descent)
{
    return descent->penalty.worst_mm <= descent->penalty.aim_mm + KS_RELAX_DONE_MM;
}

/* Whether the penalty has not fallen as it does where an attempt comes to something: then it falls
 * some sixteenfold with each doubling of the steps. Most attempts are seen to fail at the start. */
static bool behind(const ks_descent *descent, const ks_descent_limits *limits, int steps)
{
    enum { EVERY = 5 };
    if (limits->excess_mm2 <= 0 || steps % EVERY != 0)
        return false;
    double n = steps > 0 ? steps : EVERY / 2.0;
    return (descent->penalty_mm2 - limits->wanted_mm2) * (n * n * n * n) > limits->excess_mm2;
}

static bool descended(ks_descent *descent, ks_descent_limits limits)
{
    take_values(descent);
    descent->n_kept = 0;
    descent->gone_mm = INFINITY;
    listed_for(descent, 2);
    descent->penalty_mm2 = measure(descent);
    double mark = descent->penalty_mm2;
    if (behind(descent, &limits, 0))
        return done(descent);
    for (int step = 1; step <= limits.steps && !done(descent); step++) {
        if (!take_step(descent)) {
            if (descent->n_kept == 0)
                return done(descent);
            descent->n_kept = 0;
        }
        if (behind(descent, &limits, step))
            return done(descent);
        if (step % limits.patience != 0)
            continue;
        double fallen = mark - descent->penalty_mm2;
        if (descent->penalty_mm2 > limits.fall * mark ||
            descent->penalty_mm2 - limits.hope * fallen > limits.wanted_mm2)
            return done(descent);
        mark = descent->penalty_mm2;
    }
    return done(descent);
}

bool ks_descent_down(ks_descent *descent, ks_descent_limits limits)
{
    descent->from = 0;
    descent->to = descent->packing->n;
    descent->turns_posts = descent->posts_turn;
    if (descent->to <= 1)
        return descent->to == 0 || ks_descent_one(descent, 0, limits.steps);
    return descended(descent, limits);
}

bool ks_descent_run(ks_descent *descent, ks_descent_limits limits)
{
    if (ks_descent_down(descent, limits))
        return true;
    double short_mm = descent->penalty.worst_mm - descent->penalty.aim_mm;
    return descent->to > 1 && short_mm < 0.01 * descent->stride_mm && ks_relax_polish(descent);
}

bool ks_descent_one(ks_descent *descent, int i, int steps)
{
    descent->from = i;
    descent->to = i + 1;
    descent->turns_posts = false;
    return descended(descent, (ks_descent_limits){steps, 6, 0.7, 0, INFINITY, 0});
}
