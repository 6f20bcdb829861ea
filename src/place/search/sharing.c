#include "place/search/sharing.h"

#include "place/bound/lp.h"

#include <math.h>
#include <string.h>

enum { DUE_STAGES = 4, STAGES = DUE_STAGES + 4, NODES = 200, RULES_MOST = 30 };
#define SOONER 1e-3 /* a load is fired rather than one of a later date */
#define KEPT 1e-6   /* by which a later stage may lower what an earlier one came to */

/* What decides which load a piece goes to. */
typedef struct {
    int first;         /* the item it is made after */
    int due, day, set; /* due: its rank; day: what is in time is told by */
    bool must;
    uint64_t sides; /* two bits for each rule that keeps ware apart by load */
    double bulk, worth;
} group;

typedef struct {
    const ks_sharing_ask *ask;
    ks_arena *arena;
    ks_lp lp;
    int n_groups, room_groups;
    group *groups;
    int *group_of; /* each item, -1 = nothing of it is left */
    int *x;        /* [group * slots + slot]: its column, -1 = does not suit */
    int *fired;    /* column of each slot, -1 = does not take part */
    int most;      /* column: how full the fullest is */
    int *room_row; /* of each slot */
} sharing;

static uint64_t sides_of(const ks_job *job, int item)
{
    const ks_rules *rules = &job->order->rules;
    uint64_t sides = 0;
    for (int r = 0; r < rules->n_apart && r < RULES_MOST; r++) {
        const ks_apart *rule = &rules->apart[r];
        uint32_t tags = job->items[item].tags;
        if (rule->whole_load && rule->a != rule->b)
            sides |= (uint64_t)(tags & rule->a ? 1 : tags & rule->b ? 2 : 0) << (2 * r);
    }
    return sides;
}

static bool suit_alike(const ks_job *job, int a, int b)
{
    for (int k = 0; k < job->n_kinds; k++)
        if (job->kinds[k].suits[a] != job->kinds[k].suits[b])
            return false;
    return true;
}

static int group_for(sharing *s, int item)
{
    const ks_job *job = s->ask->job;
    group own = {.first = item,
                 .due = job->due_rank[item],
                 .day = job->order->pieces[item].due_day,
                 .set = job->set[item],
                 .must = job->order->pieces[item].must_go,
                 .sides = sides_of(job, item)};
    for (int g = 0; g < s->n_groups; g++) {
        const group *is = &s->groups[g];
        if (is->due == own.due && is->day == own.day && is->set == own.set &&
            is->must == own.must && is->sides == own.sides && suit_alike(job, is->first, item))
            return g;
    }
    s->groups = KS_GROW(s->arena, s->groups, s->n_groups, &s->room_groups, group);
    s->groups[s->n_groups] = own;
    return s->n_groups++;
}

static void find_groups(sharing *s)
{
    const ks_job *job = s->ask->job;
    s->group_of = KS_TAKE(s->arena, job->n_items, int);
    for (int i = 0; i < job->n_items; i++) {
        s->group_of[i] = -1;
        if (i >= job->order->n_pieces || s->ask->left[i] <= 0 || job->urgency[i] <= 0)
            continue;
        s->group_of[i] = group_for(s, i);
        group *own = &s->groups[s->group_of[i]];
        own->bulk += s->ask->bulk[i] * s->ask->left[i];
        own->worth += job->worth[i] * s->ask->left[i];
    }
}

static int column_of(const sharing *s, int g, int slot)
{
    return s->x[g * s->ask->job->n_slots + slot];
}

static bool takes(const sharing *s, int g, int slot)
{
    const ks_job *job = s->ask->job;
    return s->ask->open[slot] && job->kinds[job->slot_kind[slot]].suits[s->groups[g].first];
}

/* Whether something is to stand in a place of its own there. */
static bool is_kept_for(const ks_job *job, int slot)
{
    for (int i = 0; i < job->order->n_pieces; i++)
        if (ks_job_is_kept_in(job, slot, i))
            return true;
    return false;
}

/* How much of each group is in each load, and which loads are fired, at most so many. */
static void put_loads(sharing *s)
{
    const ks_job *job = s->ask->job;
    int entries = s->n_groups + STAGES + 4, n = ks_lp_add_row(&s->lp, "loads", 0, s->ask->loads);
    s->fired = KS_TAKE(s->arena, job->n_slots, int);
    s->room_row = KS_TAKE(s->arena, job->n_slots, int);
    s->most = ks_lp_add_column(&s->lp, "most", 0, INFINITY, job->n_slots + STAGES);
    for (int k = 0; k < job->n_slots; k++) {
        s->fired[k] = -1;
        if (!s->ask->open[k])
            continue;
        s->fired[k] = ks_lp_add_column(&s->lp, "fired", 0, 1, entries);
        s->lp.columns[s->fired[k]].whole = true;
        s->lp.columns[s->fired[k]].low = is_kept_for(job, k);
        s->room_row[k] = ks_lp_add_row(&s->lp, "room", -INFINITY, 0);
        ks_lp_put(&s->lp, s->fired[k], n, 1);
        ks_lp_put(&s->lp, s->fired[k], s->room_row[k], -s->ask->capacity[k]);
    }
}

static void put_ware(sharing *s)
{
    int n_slots = s->ask->job->n_slots;
    s->x = KS_TAKE(s->arena, s->n_groups * n_slots, int);
    int *full = KS_TAKE(s->arena, n_slots, int);
    for (int k = 0; k < n_slots; k++)
        if (s->ask->open[k]) {
            full[k] = ks_lp_add_row(&s->lp, "full", -INFINITY, 0);
            ks_lp_put(&s->lp, s->most, full[k], -s->ask->capacity[k]);
        }
    for (int g = 0; g < s->n_groups; g++) {
        int row = ks_lp_add_row(&s->lp, "ware", 0, s->groups[g].bulk);
        for (int k = 0; k < n_slots; k++) {
            s->x[g * n_slots + k] = -1;
            if (!takes(s, g, k))
                continue;
            int x = ks_lp_add_column(&s->lp, "in", 0, s->groups[g].bulk, RULES_MOST + STAGES + 4);
            s->x[g * n_slots + k] = x;
            ks_lp_put(&s->lp, x, row, 1);
            ks_lp_put(&s->lp, x, s->room_row[k], 1);
            ks_lp_put(&s->lp, x, full[k], 1);
        }
    }
}

/* Of a rule's two sides a load takes one. */
static void put_rule(sharing *s, int rule)
{
    for (int k = 0; k < s->ask->job->n_slots; k++) {
        if (!s->ask->open[k])
            continue;
        int side = ks_lp_add_column(&s->lp, "side", 0, 1, s->n_groups);
        s->lp.columns[side].whole = true;
        for (int g = 0; g < s->n_groups; g++) {
            int of = (int)(s->groups[g].sides >> (2 * rule)) & 3;
            double bulk = s->groups[g].bulk;
            if (of == 0 || column_of(s, g, k) < 0)
                continue;
            int row = ks_lp_add_row(&s->lp, "apart", -INFINITY, of == 1 ? 0 : bulk);
            ks_lp_put(&s->lp, column_of(s, g, k), row, 1);
            ks_lp_put(&s->lp, side, row, of == 1 ? -bulk : bulk);
        }
    }
}

/* A set is in a load whole or not at all. */
static void put_set(sharing *s, int set)
{
    int once = -1;
    for (int k = 0; k < s->ask->job->n_slots; k++) {
        int whole = -1;
        for (int g = 0; g < s->n_groups; g++) {
            if (s->groups[g].set != set || !s->ask->open[k])
                continue;
            if (once < 0)
                once = ks_lp_add_row(&s->lp, "once", 0, 1);
            if (whole < 0) {
                whole = ks_lp_add_column(&s->lp, "set", 0, 1, s->n_groups + 1);
                s->lp.columns[whole].whole = true;
                ks_lp_put(&s->lp, whole, once, 1);
            }
            int row = ks_lp_add_row(&s->lp, "whole", 0, 0);
            ks_lp_put(&s->lp, whole, row, -s->groups[g].bulk);
            if (column_of(s, g, k) >= 0)
                ks_lp_put(&s->lp, column_of(s, g, k), row, 1);
        }
    }
}

/* What a stage makes as large as it can, by its number. */
static double counted_in(const sharing *s, int stage, int g, int slot)
{
    const ks_job *job = s->ask->job;
    const group *is = &s->groups[g];
    bool in_time = ks_job_in_time(job, slot, is->first);
    if (stage == 0)
        return is->must;
    if (stage <= DUE_STAGES)
        return is->due >= 0 && in_time &&
               (stage == DUE_STAGES ? is->due >= stage - 1 : is->due == stage - 1);
    if (stage == DUE_STAGES + 1)
        return is->due >= 0 && !in_time ? job->n_slots - slot : 0;
    return stage == DUE_STAGES + 2 && is->bulk > 0 ? is->worth / is->bulk : 0;
}

/* False: nothing is counted in this stage. */
static bool set_stage(sharing *s, int stage)
{
    bool any = stage == STAGES - 1;
    for (int c = 0; c < s->lp.n_columns; c++)
        s->lp.columns[c].worth = 0;
    for (int g = 0; g < s->n_groups; g++)
        for (int k = 0; k < s->ask->job->n_slots; k++) {
            double by = column_of(s, g, k) >= 0 ? counted_in(s, stage, g, k) : 0;
            if (by > 0)
                s->lp.columns[column_of(s, g, k)].worth = by;
            any = any || by > 0;
        }
    if (stage == STAGES - 1)
        s->lp.columns[s->most].worth = -1;
    for (int k = 0; k < s->ask->job->n_slots && stage == STAGES - 1; k++)
        if (s->fired[k] >= 0)
            s->lp.columns[s->fired[k]].worth = -SOONER * (k + 1);
    return any;
}

/* Later stages keep what this one came to. */
static void keep_stage(sharing *s, double value)
{
    int row = ks_lp_add_row(&s->lp, "kept", value - KEPT * fabs(value), INFINITY);
    for (int c = 0; c < s->lp.n_columns; c++)
        if (s->lp.columns[c].worth != 0)
            ks_lp_put(&s->lp, c, row, s->lp.columns[c].worth);
}

static ks_lp_answer solve(sharing *s)
{
    ks_lp_answer answer = {0};
    for (int stage = 0; stage < STAGES; stage++) {
        if (!set_stage(s, stage))
            continue;
        ks_lp_answer now = ks_lp_solve_whole(&s->lp, answer.solved ? answer.x : NULL, NODES,
                                             s->ask->job->stop, s->arena);
        if (!now.solved)
            return answer;
        answer = now;
        keep_stage(s, now.value);
    }
    return answer;
}

static bool is_bound(const group *is)
{
    return is->set >= 0 || is->sides != 0;
}

static void read_answer(const sharing *s, const ks_lp_answer *answer, ks_sharing *out)
{
    const ks_job *job = s->ask->job;
    for (int k = 0; k < job->n_slots; k++)
        for (int i = 0; i < job->order->n_pieces; i++) {
            int g = s->group_of[i], x = g < 0 ? -1 : column_of(s, g, k);
            double *part = &out->part[k * job->n_items + i];
            if (x >= 0 && s->groups[g].bulk > 0)
                *part = fmin(1, fmax(0, answer->x[x] / s->groups[g].bulk));
            out->elsewhere[k * job->n_items + i] =
                x < 0 || (is_bound(&s->groups[g]) && *part < KEPT);
            out->bulk += *part * s->ask->bulk[i] * s->ask->left[i];
        }
    for (int k = 0; k < job->n_slots; k++)
        out->fired[k] = s->fired[k] >= 0 && answer->x[s->fired[k]] > 0.5;
}

ks_sharing ks_sharing_find(const ks_sharing_ask *ask, ks_arena *arena)
{
    const ks_job *job = ask->job;
    int n = job->n_slots * job->n_items;
    sharing s = {.ask = ask, .arena = arena, .lp = {.arena = arena}};
    ks_sharing out = {.part = KS_TAKE(arena, n, double),
                      .fired = KS_TAKE(arena, job->n_slots, bool),
                      .elsewhere = KS_TAKE(arena, n, bool)};
    find_groups(&s);
    if (s.n_groups == 0)
        return out;
    put_loads(&s);
    put_ware(&s);
    for (int r = 0; r < job->order->rules.n_apart && r < RULES_MOST; r++)
        if (job->order->rules.apart[r].whole_load)
            put_rule(&s, r);
    for (int set = 0; set < job->n_sets; set++)
        put_set(&s, set);
    ks_lp_answer answer = solve(&s);
    out.solved = answer.solved;
    if (answer.solved)
        read_answer(&s, &answer, &out);
    return out;
}
