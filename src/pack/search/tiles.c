#include "pack/search/situation.h"

#include "pack/search/skyline.h"
#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <string.h>

/* Rectangles in a rectangle, sides parallel: a local search over the row in which they are asked
 * for, and over which of them are barred. */

static int64_t um_below(double mm)
{
    return (int64_t)floor(mm * 1000 + 1e-6);
}

static int64_t um_above(double mm)
{
    return (int64_t)ceil(mm * 1000 - 1e-6);
}

static ks_box box_of(const ks_shelf_item *item)
{
    ks_box box = ks_outline_box(&item->parts[0].outline);
    for (int p = 1; p < item->n_parts; p++) {
        ks_box other = ks_outline_box(&item->parts[p].outline);
        box = (ks_box){fmin(box.x0, other.x0), fmin(box.y0, other.y0), fmax(box.x1, other.x1),
                       fmax(box.y1, other.y1)};
    }
    return box;
}

static double widest_gap(const ks_instance *instance)
{
    double most = 0;
    for (int k = 0; k < instance->n_kinds; k++) {
        ks_shelf_item any = instance->items[k];
        any.glazed = any.glazed || instance->space.ware_mm < instance->space.setter_mm;
        for (int p = 0; p < any.n_parts; p++)
            for (int q = 0; q < any.n_parts; q++)
                most = fmax(most,
                            ks_shelf_apart(&instance->space, (ks_shelf_part){&any, &any.parts[p]},
                                           (ks_shelf_part){&any, &any.parts[q]}));
    }
    return most;
}

static void find_room(ks_floor_plan *plan, const ks_instance *instance)
{
    double x0 = -INFINITY, y0 = -INFINITY, x1 = INFINITY, y1 = INFINITY;
    for (int r = 0; r < instance->space.n_regions; r++) {
        ks_box box = ks_outline_box(&instance->space.regions[r].outline);
        double margin = instance->space.regions[r].margin_mm + instance->space.reserve_mm;
        x0 = fmax(x0, box.x0 + margin), y0 = fmax(y0, box.y0 + margin);
        x1 = fmin(x1, box.x1 - margin), y1 = fmin(y1, box.y1 - margin);
    }
    plan->x_mm = (double)um_above(x0) / 1000;
    plan->y_mm = (double)um_above(y0) / 1000;
    plan->width = um_below(x1) - um_above(x0) + plan->gap;
    plan->height = um_below(y1) - um_above(y0) + plan->gap;
}

static void list_tiles(ks_floor_plan *plan, const ks_shelf_search *search)
{
    for (int k = 0; k < search->instance.n_kinds; k++) {
        const ks_item_type *kind = &search->instance.kinds[k];
        ks_box box = box_of(kind->item);
        ks_tile one = {.kind = k, .may_turn = ks_square_turn(kind, true) >= 0};
        one.w = um_above(box.x1) - um_below(box.x0) + plan->gap;
        one.h = um_above(box.y1) - um_below(box.y0) + plan->gap;
        for (int c = 0; c < ks_search_copies(search, k); c++) {
            one.worth = ks_search_worth_of_next(search, k, c);
            plan->tiles[plan->n++] = one;
        }
    }
}

static ks_floor_plan make_plan(ks_shelf_search *search, ks_arena *arena)
{
    int n = 0;
    for (int k = 0; k < search->instance.n_kinds; k++)
        n += ks_search_copies(search, k);
    ks_floor_plan plan = {.gap = um_above(widest_gap(&search->instance)), .work = &search->work};
    plan.tiles = KS_TAKE(arena, n, ks_tile);
    plan.row = KS_TAKE(arena, n, int);
    plan.best_row = KS_TAKE(arena, n, int);
    plan.turned = KS_TAKE(arena, n, bool);
    plan.used = KS_TAKE(arena, n, bool);
    plan.barred = KS_TAKE(arena, n, bool);
    plan.laid = KS_TAKE(arena, n, ks_tile_laid);
    plan.merit = KS_TAKE(arena, n, double);
    plan.line = KS_TAKE(arena, 2 * n + 4, ks_stretch);
    find_room(&plan, &search->instance);
    list_tiles(&plan, search);
    return plan;
}

/* The layout as a trial, taken when it keeps the mass and what must not meet. */
static void take_plan(ks_shelf_search *search, const ks_floor_plan *plan)
{
    ks_packing *trial = &search->trial;
    trial->n = 0;
    for (int k = 0; k < plan->n_laid; k++) {
        const ks_tile_laid *one = &plan->laid[k];
        const ks_tile *what = &plan->tiles[one->tile];
        const ks_item_type *kind = &search->instance.kinds[what->kind];
        if (!ks_search_may_join(search, trial, what->kind))
            continue;
        ks_box box = box_of(kind->item);
        ks_stand stand = {plan->x_mm + (double)one->x / 1000, plan->y_mm + (double)one->y / 1000,
                          ks_square_turn(kind, one->turned)};
        double left = stand.turn_deg == 0     ? box.x0
                      : stand.turn_deg == 90  ? -box.y1
                      : stand.turn_deg == 180 ? -box.x1
                                              : box.y0;
        double low = stand.turn_deg == 0     ? box.y0
                     : stand.turn_deg == 90  ? box.x0
                     : stand.turn_deg == 180 ? -box.y1
                                             : -box.x1;
        stand.x -= (double)um_below(left) / 1000;
        stand.y -= (double)um_below(low) / 1000;
        ks_packing_add(trial, what->kind, ks_stand_placement(kind, stand));
    }
    ks_search_take(search);
}

static void begin_row(ks_shelf_search *search, ks_floor_plan *plan)
{
    double power = ks_random_unit(&search->random);
    for (int t = 0; t < plan->n; t++) {
        const ks_tile *one = &plan->tiles[t];
        double area = (double)one->w * (double)one->h;
        plan->merit[t] = one->worth / (power < 0.5 ? area : sqrt(area)) *
                         ks_random_between(&search->random, 0.8, 1.2);
        int at = t;
        for (; at > 0 && plan->merit[plan->row[at - 1]] < plan->merit[t]; at--)
            plan->row[at] = plan->row[at - 1];
        plan->row[at] = t;
    }
}

/* Bars the end of the row, from where the tiles before it take more than so much of the room. */
static void end_barred(ks_floor_plan *plan, double share)
{
    double area = 0, room = (double)plan->width * (double)plan->height;
    for (int r = 0; r < plan->n; r++) {
        const ks_tile *one = &plan->tiles[plan->row[r]];
        area += (double)one->w * (double)one->h;
        plan->barred[plan->row[r]] = area > share * room;
    }
}

static void row_changed(ks_shelf_search *search, ks_floor_plan *plan)
{
    int i = ks_random_below(&search->random, plan->n),
        j = ks_random_below(&search->random, plan->n);
    int t = plan->row[i];
    if (plan->tiles[t].may_turn && ks_random_below(&search->random, 4) == 0)
        plan->turned[t] = !plan->turned[t];
    if (ks_random_below(&search->random, 2)) {
        plan->row[i] = plan->row[j];
        plan->row[j] = t;
        return;
    }
    for (; i < j; i++)
        plan->row[i] = plan->row[i + 1];
    for (; i > j; i--)
        plan->row[i] = plan->row[i - 1];
    plan->row[j] = t;
}

/* From a fresh row, changes that do no harm, until so many in a row did no good. */
static void climbed(ks_shelf_search *search, ks_floor_plan *plan, int64_t end)
{
    int patience = 3000, since = 0;
    size_t bytes = (size_t)plan->n * sizeof *plan->row;
    begin_row(search, plan);
    plan->by_score = ks_random_below(&search->random, 2);
    end_barred(plan, ks_random_between(&search->random, 0.95, 1.6));
    double worth = ks_floor_lay(plan);
    for (; since < patience && search->work < end && !ks_search_over(search); since++) {
        if (worth > search->best_worth)
            take_plan(search, plan);
        int flip = ks_random_below(&search->random, 3 * plan->n);
        memcpy(plan->best_row, plan->row, bytes);
        row_changed(search, plan);
        if (flip < plan->n)
            plan->barred[flip] = !plan->barred[flip];
        double now = ks_floor_lay(plan);
        if (now < worth) {
            memcpy(plan->row, plan->best_row, bytes);
            if (flip < plan->n)
                plan->barred[flip] = !plan->barred[flip];
        }
        since = now > worth ? 0 : since;
        worth = fmax(worth, now);
    }
}

static void tile(ks_shelf_search *search, void *state, int64_t work)
{
    ks_arena arena = {0};
    int64_t end = search->work + work;
    ks_floor_plan plan = make_plan(search, &arena);
    while (plan.n > 0 && search->work < end && !ks_search_over(search))
        climbed(search, &plan, end);
    ks_arena_finish(&arena);
}

const ks_strategy ks_strategy_tiles = {"tiles", 6, ks_is_tiling, NULL, NULL, tile};
