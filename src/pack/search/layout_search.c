#include "pack/search/layout_search.h"

#include "pack/shelf/shelf_rule.h"

#include <math.h>
#include <string.h>

#define DUST_WORTH 1e-12
#define DUST_MM 1e-9 /* what a distance of nothing may come to in doubles */

bool ks_search_over(const ks_shelf_search *search)
{
    return search->all_in || search->work >= search->work_end || ks_stop_is_asked(search->stop);
}

int ks_search_copies(const ks_shelf_search *search, int kind)
{
    const ks_shelf_item *item = search->instance.kinds[kind].item;
    if (search->instance.kinds[kind].hopeless)
        return 0;
    return item->worth > 0 ? item->copies : item->must;
}

double ks_search_worth_of_next(const ks_shelf_search *search, int kind, int count)
{
    const ks_shelf_item *item = search->instance.kinds[kind].item;
    return item->worth + (count < item->must ? search->must_worth : 0);
}

static int drawn_by(const ks_shelf_item *item, int stock)
{
    int n = 0;
    for (int d = 0; d < item->n_draws; d++)
        n += item->draws[d].stock == stock ? item->draws[d].n : 0;
    return n;
}

/* Whether the stocks that one more of the kind draws from still have it. */
static bool has_stock(const ks_shelf_search *search, const int *count, int kind)
{
    const ks_shelf_item *item = &search->instance.items[kind];
    for (int d = 0; d < item->n_draws; d++) {
        int left = item->draws[d].of - item->draws[d].n;
        for (int k = 0; k < search->instance.n_kinds && left >= 0; k++)
            if (count[k] > 0)
                left -= count[k] * drawn_by(&search->instance.items[k], item->draws[d].stock);
        if (left < 0)
            return false;
    }
    return true;
}

static bool has_stock_beside(const ks_shelf_search *search, const ks_packing *packing, int kind)
{
    const ks_shelf_item *item = &search->instance.items[kind];
    for (int d = 0; d < item->n_draws; d++) {
        int left = item->draws[d].of - item->draws[d].n;
        for (int i = 0; i < packing->n; i++)
            left -= drawn_by(&search->instance.items[packing->kind[i]], item->draws[d].stock);
        if (left < 0)
            return false;
    }
    return true;
}

bool ks_search_has_more(const ks_shelf_search *search, const int *count, int kind)
{
    return count[kind] < ks_search_copies(search, kind) && has_stock(search, count, kind);
}

bool ks_search_may_join(const ks_shelf_search *search, const ks_packing *packing, int kind)
{
    const ks_shelf_item *item = &search->instance.items[kind];
    double mass_kg = item->mass_kg;
    for (int i = 0; i < packing->n; i++) {
        const ks_shelf_item *other = &search->instance.items[packing->kind[i]];
        mass_kg += other->mass_kg;
        if ((item->tags & other->conflicts) || (item->conflicts & other->tags))
            return false;
    }
    return mass_kg <= search->instance.space.mass_limit_kg && packing->n < packing->room &&
           has_stock_beside(search, packing, kind);
}

bool ks_search_all_in(const ks_shelf_search *search)
{
    for (int k = 0; k < search->instance.n_kinds; k++)
        if (ks_search_has_more(search, search->now_count, k))
            return false;
    return true;
}

static double some_turn(ks_shelf_search *search, const ks_item_type *kind)
{
    if (kind->turnless)
        return ks_item_type_turn(kind, 0);
    if (kind->n_turns > 0)
        return ks_item_type_turn(kind, ks_random_below(&search->random, kind->n_turns));
    return 360 * ks_random_unit(&search->random);
}

double ks_search_spot(ks_shelf_search *search, int i, ks_point at, double within_mm, int samples)
{
    ks_packing *packing = &search->trial;
    const ks_item_type *kind = &search->instance.kinds[packing->kind[i]];
    double least = INFINITY;
    ks_placement best = {at.x, at.y, 0};
    for (int s = 0; s < samples && least > 0; s++) {
        ks_placement place = {
            ks_random_between(&search->random, at.x - within_mm, at.x + within_mm),
            ks_random_between(&search->random, at.y - within_mm, at.y + within_mm),
            some_turn(search, kind)};
        ks_packing_move(packing, i, place);
        double penalty = ks_penalty_below(&search->descent.penalty, i, least);
        if (penalty < least) {
            least = penalty;
            best = place;
        }
    }
    ks_packing_move(packing, i, best);
    return least;
}

double ks_search_spot_anywhere(ks_shelf_search *search, int i, int samples)
{
    ks_packing *packing = &search->trial;
    const ks_item_type *kind = &search->instance.kinds[packing->kind[i]];
    ks_box box = search->instance.box;
    double least = INFINITY;
    ks_placement best = {0, 0, 0};
    for (int s = 0; s < samples && least > 0; s++) {
        ks_placement place = {ks_random_between(&search->random, box.x0, box.x1),
                              ks_random_between(&search->random, box.y0, box.y1),
                              some_turn(search, kind)};
        ks_packing_move(packing, i, place);
        double penalty = ks_penalty_below(&search->descent.penalty, i, least);
        if (penalty < least) {
            least = penalty;
            best = place;
        }
    }
    ks_packing_move(packing, i, best);
    return least;
}

/* The body next to `i` in size among some drawn by lot, of another kind; `i` itself if none is. */
static int like_sized_body(ks_shelf_search *search, int i)
{
    enum { DRAWN = 6 };
    const ks_packing *trial = &search->trial;
    double size = search->instance.kinds[trial->kind[i]].size_mm2, nearest = INFINITY;
    int best = i;
    for (int draw = 0; draw < DRAWN; draw++) {
        int other = ks_random_below(&search->random, trial->n);
        double unlike = fabs(search->instance.kinds[trial->kind[other]].size_mm2 - size);
        if (trial->kind[other] != trial->kind[i] && unlike < nearest) {
            nearest = unlike;
            best = other;
        }
    }
    return best;
}

void ks_search_swap(ks_shelf_search *search)
{
    ks_packing *trial = &search->trial;
    int i = ks_random_below(&search->random, trial->n), j = like_sized_body(search, i);
    ks_placement at_i = trial->place[i], at_j = trial->place[j];
    double turn_i = at_i.turn_deg;
    at_i.turn_deg = at_j.turn_deg;
    at_j.turn_deg = turn_i;
    ks_packing_move(trial, i, at_j);
    ks_packing_move(trial, j, at_i);
}

void ks_search_retry(ks_shelf_search *search)
{
    ks_packing_copy(&search->trial, &search->now);
}

double ks_search_worth_of(const ks_shelf_search *search, const ks_packing *packing, int *count)
{
    double worth = 0;
    memset(count, 0, (size_t)search->instance.n_kinds * sizeof *count);
    for (int i = 0; i < packing->n; i++)
        worth += ks_search_worth_of_next(search, packing->kind[i], count[packing->kind[i]]++);
    return worth;
}

/* Whether the layout that holds now, once on the grid, breaks nothing and can be loaded: then it is
 * the best. */
static bool take_best(ks_shelf_search *search)
{
    const ks_packing *now = &search->now;
    ks_shelf_spot *spots = search->best + now->room; /* the second half is for this */
    double turn = floor(now->post_turn_deg * 1000 + 0.5) / 1000, own = 0;
    for (int i = 0; i < now->n; i++) {
        const ks_item_type *kind = &search->instance.kinds[now->kind[i]];
        spots[i] = (ks_shelf_spot){now->kind[i], ks_placement_stand(kind, now->place[i])};
        own += kind->item->worth;
    }
    if (ks_shelf_slack(&search->instance.space, search->instance.items, now->n, spots, turn) <
            -DUST_MM ||
        !ks_shelf_loadable(&search->instance.space, search->instance.items, now->n, spots))
        return false;
    memcpy(search->best, spots, (size_t)now->n * sizeof *spots);
    search->n_best = now->n;
    search->best_worth = search->now_worth;
    search->best_own_worth = own;
    search->best_post_turn_deg = turn;
    search->all_in = ks_search_all_in(search);
    return true;
}

static void best_restored(ks_shelf_search *search)
{
    ks_packing *now = &search->now;
    now->n = 0;
    ks_packing_turn_posts(now, search->best_post_turn_deg);
    for (int i = 0; i < search->n_best; i++) {
        const ks_shelf_spot *spot = &search->best[i];
        ks_packing_add(now, spot->item,
                       ks_stand_placement(&search->instance.kinds[spot->item], spot->stand));
    }
    search->now_worth = ks_search_worth_of(search, now, search->now_count);
}

bool ks_search_take(ks_shelf_search *search)
{
    ks_search_drop_overload(search);
    if (!ks_search_made_loadable(search) &&
        ks_search_worth_of(search, &search->trial, search->trial_count) <
            search->now_worth + (search->now.n > 0 ? DUST_WORTH : 0))
        return false;
    ks_packing_copy(&search->now, &search->trial);
    search->now_worth = ks_search_worth_of(search, &search->now, search->now_count);
    if (search->now_worth > search->best_worth && !take_best(search))
        best_restored(search);
    ks_restarts_watch(&search->restarts, &search->now, search->now_worth);
    return true;
}
