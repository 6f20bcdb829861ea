#include "place/bound/relaxation.h"

#include "place/stack/level_space.h"
#include "place/bound/lp.h"
#include "place/bound/room.h"
#include "place/bound/standable.h"

#include <math.h>
#include <string.h>

/* A load costs this part of all ware's worth: too little to leave a piece out for, and enough that
 * no more loads are fired than are needed. */
#define LOAD_COST 1e-4

double ks_item_area_mm2(const ks_job *job, const ks_load_kind *kind, int item)
{
    return ks_item_cell_mm2(job, kind, item, 0);
}

static const double *areas_known(const ks_job *job, int kind)
{
    const ks_clearance *clear = &job->kinds[kind].clear;
    for (int k = 0; k < kind; k++)
        if (job->kinds[k].clear.ware == clear->ware && job->kinds[k].clear.setter == clear->setter)
            return job->kinds[k].area_mm2;
    return NULL;
}

void ks_item_areas_find(ks_job *job)
{
    for (int k = 0; k < job->n_kinds; k++) {
        if (job->kinds[k].area_mm2) /* a job made from another shares its kinds */
            continue;
        const double *known = areas_known(job, k);
        double *area_mm2 = known ? NULL : KS_TAKE(job->arena, job->n_items, double);
        for (int i = 0; i < job->n_items && !known; i++)
            area_mm2[i] = ks_item_cell_mm2(job, &job->kinds[k], i, 0);
        job->kinds[k].area_mm2 = known ? known : area_mm2;
    }
}

double ks_item_cell_mm2(const ks_job *job, const ks_load_kind *kind, int item, double side_mm2)
{
    static const double at[] = {0, 0.35, 0.7, 0.999};
    if (kind->area_mm2 && !(side_mm2 > 0))
        return kind->area_mm2[item];
    ks_cell_rule rule = {side_mm2, 0};
    ks_shelf_space space = {.ware_mm = kind->clear.ware, .setter_mm = kind->clear.setter};
    double most = 0;
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        double need =
            ks_item_cell_need_mm2(&space, &job->items[item], at[i] * job->height_mm[item], &rule);
        most = need > most ? need : most;
    }
    return most;
}

typedef struct {
    const ks_relax_ask *ask;
    ks_arena *arena;
    ks_lp lp;
    const ks_load_kind *kind; /* whose stack is being sought */
    double *area;             /* of each item */
    double *price;            /* of area at each height */
    double **room; /* of each kind, by bay, support, standing, band and top; < 0 unknown */
    ks_relaxed out;
    int room_stacks, first_stack_column;
    int *slot_row;  /* of each kind */
    int *stock_row; /* of each piece that towers take copies of, -1 none */
    double load_cost;
} relaxing;

/* What posts take from ware about them, also where they stand at the edge. */
static double taken_by_posts(const ks_shelf_space *space)
{
    double sum = 0;
    for (int o = 0; o < space->n_obstacles; o++) {
        ks_outline kept = space->obstacles[o].outline;
        kept.round += space->obstacles[o].clearance_mm;
        bool low = space->obstacles[o].from_mm <= 0 && !space->obstacles[o].grog_only;
        sum += low && ks_outline_convex(&kept) ? ks_outline_area(&kept) : 0;
    }
    return sum;
}

static double area_of(relaxing *r, const ks_stack_level *level)
{
    ks_arena scratch = {0};
    ks_shelf_space space = ks_level_space(r->ask->job, r->kind, level, &scratch);
    double off = r->ask->density < 1 ? KS_EDGE_LOSS_MM : 0;
    double grow = r->kind->clear.ware / 2 - off, area;
    ks_cell_rule rule;
    if (!(r->ask->side_mm2 > 0) ||
        !ks_level_cell_room(&space, 0, grow, r->ask->side_mm2, &scratch, &rule, &area))
        area = ks_level_room_mm2(&space, 0, grow, &scratch);
    if (r->ask->density < 1)
        area -= taken_by_posts(&space);
    ks_arena_finish(&scratch);
    return area > 0 ? area * r->ask->density : 0;
}

/* Between which ends of chamber parts and keep-outs a height lies: only there does area change. A
 * straight chamber is taken to have one area at all heights. */
static int band_of(const ks_kiln *kiln, double z)
{
    int band = 0;
    for (int i = 0; i < kiln->n_parts && kiln->n_parts > 1; i++)
        band += (kiln->parts[i].from_mm <= z) + (kiln->parts[i].to_mm <= z);
    for (int i = 0; i < kiln->n_keep_outs && kiln->n_parts > 1; i++) {
        const ks_keep_out *out = &kiln->keep_outs[i];
        band += (out->from_mm - out->clearance_mm <= z) + (out->to_mm + out->clearance_mm <= z);
    }
    return band;
}

static int most_supports(const ks_kiln *kiln)
{
    int most = 0;
    for (int b = 0; b < kiln->n_bays; b++)
        most = kiln->bays[b].n_supports > most ? kiln->bays[b].n_supports : most;
    return most;
}

static double area_known(relaxing *r, const ks_stack_level *level)
{
    const ks_kiln *kiln = r->kind->furniture->kiln;
    int supports = most_supports(kiln), n = r->kind->furniture->n_post_layouts;
    int bands = 2 * (kiln->n_parts + kiln->n_keep_outs) + 1;
    int in_all = kiln->n_bays * supports * n * bands * 2;
    double **rooms = &r->room[r->kind - r->ask->job->kinds];
    if (!*rooms) {
        *rooms = KS_TAKE(r->arena, in_all, double);
        for (int i = 0; i < in_all; i++)
            (*rooms)[i] = -1;
    }
    int shelves = (level->bay * supports + level->support) * n + level->standing;
    int band = band_of(kiln, ks_mm_of(level->z));
    double *known = &(*rooms)[(shelves * bands + band) * 2 + (level->posts < 0)];
    if (*known < 0)
        *known = area_of(r, level);
    return *known;
}

/* The tallest ware that a level's area is good for, -1 = none. What cannot stand on its shelves
 * makes nothing of it, however much area there is: else a form is foreseen on halves of shelves. */
static int top_height(const relaxing *r, const ks_stack_level *level)
{
    return r->ask->density < 1 ? ks_standable_height(r->ask->job, r->kind, level)
                               : ks_height_index(r->ask->job, ks_level_clear_mm(r->kind, level));
}

static double liquid_value(void *context, const ks_stack_level *level)
{
    relaxing *r = context;
    int h = top_height(r, level);
    return h < 0 ? 0 : area_known(r, level) * r->price[h];
}

static void add_stack(relaxing *r, int kind, ks_stack stack)
{
    const ks_job *job = r->ask->job;
    r->out.stacks =
        KS_GROW(r->arena, r->out.stacks, r->out.n_stacks, &r->room_stacks, struct ks_relaxed_stack);
    int column = ks_lp_add_column(&r->lp, NULL, -r->load_cost, INFINITY, stack.n_levels + 1);
    double *at = KS_TAKE(r->arena, job->n_heights, double);
    for (int l = 0; l < stack.n_levels; l++) {
        int top = top_height(r, &stack.levels[l]);
        if (top >= 0)
            at[top] += area_known(r, &stack.levels[l]);
    }
    for (int h = 0; h < job->n_heights; h++)
        if (at[h] > 0)
            ks_lp_put(&r->lp, column, h, -at[h]);
    ks_lp_put(&r->lp, column, r->slot_row[kind], 1);
    r->out.stacks[r->out.n_stacks++] = (struct ks_relaxed_stack){kind, stack, at, 0, 0};
}

/* Pieces and the towers that they make share their copies: a row for each piece. */
static void state_stock(relaxing *r)
{
    const ks_job *job = r->ask->job;
    r->stock_row = KS_TAKE(r->arena, job->n_items, int);
    for (int i = 0; i < job->n_items; i++)
        r->stock_row[i] = -1;
    for (int t = job->first_tower; t < job->n_items; t++)
        for (int m = 0; m < ks_job_members(job, t); m++) {
            int piece = ks_job_member(job, t, m);
            if (r->stock_row[piece] < 0)
                r->stock_row[piece] = ks_lp_add_row(&r->lp, NULL, -INFINITY, r->ask->left[piece]);
        }
}

/* How many of its first m members are the same piece as that one. */
static int seen_before(const ks_job *job, int item, int m)
{
    int n = 0;
    for (int k = 0; k < m; k++)
        n += ks_job_member(job, item, k) == ks_job_member(job, item, m);
    return n;
}

static int stock_entries(const relaxing *r, int item)
{
    const ks_job *job = r->ask->job;
    int n = 0;
    for (int m = 0; m < ks_job_members(job, item); m++)
        n += r->stock_row[ks_job_member(job, item, m)] >= 0 && seen_before(job, item, m) == 0;
    return n;
}

static void put_stock(relaxing *r, int column, int item)
{
    const ks_job *job = r->ask->job;
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m), n = 0;
        if (r->stock_row[piece] < 0 || seen_before(job, item, m) > 0)
            continue;
        for (int k = 0; k < ks_job_members(job, item); k++)
            n += ks_job_member(job, item, k) == piece;
        ks_lp_put(&r->lp, column, r->stock_row[piece], n);
    }
}

/* Ware needs area on levels just high enough for it, or what higher ones have to spare:
 *
 *   area of the ware so high + spared for lower ware - spared from above - area of levels <= 0
 */
static void state_problem(relaxing *r)
{
    const ks_job *job = r->ask->job;
    for (int h = 0; h < job->n_heights; h++)
        ks_lp_add_row(&r->lp, NULL, -INFINITY, 0);
    for (int k = 0; k < job->n_kinds; k++)
        r->slot_row[k] = ks_lp_add_row(&r->lp, NULL, -INFINITY, r->ask->loads[k]);
    for (int h = 1; h < job->n_heights; h++) {
        int spared = ks_lp_add_column(&r->lp, NULL, 0, INFINITY, 2);
        ks_lp_put(&r->lp, spared, h, 1);
        ks_lp_put(&r->lp, spared, h - 1, -1);
    }
    state_stock(r);
    for (int i = 0; i < job->n_items; i++) {
        bool tower = i >= job->first_tower;
        int column =
            ks_lp_add_column(&r->lp, NULL, r->ask->worth[i],
                             tower ? (double)INFINITY : r->ask->left[i], 1 + stock_entries(r, i));
        ks_lp_put(&r->lp, column, ks_height_index(job, job->height_mm[i]), r->area[i]);
        put_stock(r, column, i);
    }
    r->first_stack_column = r->lp.n_columns;
    r->out.taken = KS_TAKE(r->arena, job->n_items, double);
}

/* Before anything is solved, area is worth what the average ware makes of it. */
static void guess_prices(relaxing *r)
{
    const ks_job *job = r->ask->job;
    double worth = 0, area = 0;
    for (int i = 0; i < job->n_items; i++) {
        worth += r->ask->worth[i] * r->ask->left[i];
        area += r->area[i] * r->ask->left[i];
    }
    r->load_cost = LOAD_COST * worth;
    for (int h = 0; h < job->n_heights; h++)
        r->price[h] = area > 0 ? worth / area * (1 + (double)h / job->n_heights) : 0;
}

static bool add_stacks(relaxing *r, const double *dual)
{
    const ks_job *job = r->ask->job;
    bool any = false;
    for (int k = 0; k < job->n_kinds && !ks_stop_is_asked(job->stop); k++) {
        if (r->ask->loads[k] <= 0)
            continue;
        r->kind = &job->kinds[k];
        ks_stack_wish wish = {job,           r->kind, liquid_value, r, r->ask->n_needs,
                              r->ask->needs, 0,       NULL,         0};
        ks_stack stack = ks_stack_best(&wish, r->arena);
        double least = dual ? dual[r->slot_row[k]] + r->load_cost : 0;
        if (stack.n_levels == 0 || stack.value <= least * (1 + 1e-6) + 1e-9)
            continue;
        add_stack(r, k, stack);
        any = true;
    }
    return any;
}

static relaxing begin_relaxing(const ks_relax_ask *ask, ks_arena *arena, ks_arena *scratch)
{
    const ks_job *job = ask->job;
    relaxing r = {.ask = ask, .arena = arena, .lp = {.arena = scratch}};
    r.area = KS_TAKE(scratch, job->n_items, double);
    r.price = KS_TAKE(arena, job->n_heights, double);
    r.room = KS_TAKE(scratch, job->n_kinds, double *);
    r.slot_row = KS_TAKE(scratch, job->n_kinds, int);
    for (int i = 0; i < job->n_items; i++)
        r.area[i] = ks_item_cell_mm2(job, &job->kinds[0], i, ask->side_mm2);
    guess_prices(&r);
    state_problem(&r);
    return r;
}

/* At the prices of the answer, at which stacks that mix well are worth much the same. */
void ks_relax_list(const ks_relax_ask *ask, int most, ks_relaxed *relaxed, ks_arena *arena)
{
    ks_arena scratch = {0};
    relaxing r = begin_relaxing(ask, arena, &scratch);
    r.price = relaxed->price_mm2;
    ks_stack *good = KS_TAKE(&scratch, most, ks_stack);
    for (int k = 0; k < ask->job->n_kinds && !ks_stop_is_asked(ask->job->stop); k++) {
        r.kind = &ask->job->kinds[k];
        ks_stack_wish wish = {ask->job,   r.kind, liquid_value, &r, ask->n_needs,
                              ask->needs, 0,      NULL,         0};
        int n = ask->loads[k] > 0 ? ks_stacks_good(&wish, most, good, arena) : 0;
        for (int i = 0; i < n; i++)
            add_stack(&r, k, good[i]);
    }
    relaxed->n_stacks = r.out.n_stacks;
    relaxed->stacks = r.out.stacks;
    ks_arena_finish(&scratch);
}

void ks_relax_alone(const ks_relax_ask *ask, ks_relaxed *relaxed)
{
    ks_arena scratch = {0};
    relaxing r = begin_relaxing(ask, &scratch, &scratch);
    for (int s = 0; s < relaxed->n_stacks; s++) {
        r.kind = &ask->job->kinds[relaxed->stacks[s].kind];
        add_stack(&r, relaxed->stacks[s].kind, relaxed->stacks[s].stack);
    }
    for (int s = 0; s < relaxed->n_stacks && !ks_stop_is_asked(ask->job->stop); s++) {
        for (int k = 0; k < relaxed->n_stacks; k++)
            r.lp.columns[r.first_stack_column + k].high = k == s ? 1 : 0;
        ks_lp_answer answer = ks_lp_solve(&r.lp, &scratch);
        relaxed->stacks[s].alone = answer.solved ? answer.value : 0;
    }
    ks_arena_finish(&scratch);
}

ks_relaxed ks_relax(const ks_relax_ask *ask, ks_arena *arena)
{
    const ks_job *job = ask->job;
    ks_arena scratch = {0};
    relaxing r = begin_relaxing(ask, arena, &scratch);
    bool more = add_stacks(&r, NULL);
    ks_lp_answer answer = {0};
    for (int i = 0; i < KS_STACKS_TRIED && more && !ks_stop_is_asked(job->stop); i++) {
        answer = ks_lp_solve(&r.lp, &scratch);
        if (!answer.solved)
            break;
        for (int h = 0; h < job->n_heights; h++)
            r.price[h] = answer.dual[h] > 0 ? answer.dual[h] : 0;
        r.out.value = answer.value;
        for (int g = 0; g < job->n_items; g++)
            r.out.taken[g] = answer.x[r.first_stack_column - job->n_items + g];
        for (int s = 0; s < r.out.n_stacks; s++)
            r.out.stacks[s].used = answer.x[r.first_stack_column + s];
        more = add_stacks(&r, answer.dual);
    }
    r.out.price_mm2 = r.price;
    ks_arena_finish(&scratch);
    return r.out;
}
