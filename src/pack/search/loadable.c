#include "pack/instance/penalty.h"
#include "pack/search/layout_search.h"
#include "pack/shelf/shelf_order.h"

#include <math.h>

/* Layouts whose pieces can go in through the door one after another. What keeps a large piece out,
 * since hands find no room beside it, is pushed aside; where that does not help, what is worth
 * least is taken out. */

static ks_shelf_order order_of(ks_shelf_search *search, ks_arena *arena)
{
    const ks_packing *trial = &search->trial;
    ks_shelf_spot *spots = KS_TAKE(arena, trial->n, ks_shelf_spot);
    for (int i = 0; i < trial->n; i++) {
        const ks_item_type *kind = &search->instance.kinds[trial->kind[i]];
        spots[i] = (ks_shelf_spot){trial->kind[i], ks_placement_stand(kind, trial->place[i])};
    }
    search->work += trial->n * trial->n / 4;
    return ks_shelf_order_find(&search->instance.space, search->instance.items, trial->n, spots,
                               arena);
}

/* Hands have no room on either side of it, and nothing else keeps it from coming out. */
static bool is_jammed(const ks_shelf_order *order, int i)
{
    return order->in[i] && order->n_waiting[i] == 0;
}

static bool is_beside(const ks_shelf_order *order, int i, int k, int side)
{
    return order->in[k] && order->sides[side].beside[i * order->n + k];
}

/* What is in its way out need only not be: then it may go in later. */
static double need_mm(const ks_shelf_order *order, int i, int k)
{
    return order->after[i * order->n + k] ? 2 * KS_ORDER_DOUBT_MM
                                          : order->space->entry.hand_room_mm + KS_ORDER_DOUBT_MM;
}

static double wall_short_mm(const ks_shelf_order *order, int i, int side)
{
    return order->space->entry.hand_room_mm + KS_ORDER_DOUBT_MM -
           ks_shelf_room_to_wall(order, i, side);
}

/* How far things would have to give way so that hands have room on that side. */
static double all_short_mm(const ks_shelf_order *order, int i, int side)
{
    double sum = order->sides[side].walled[i] ? wall_short_mm(order, i, side) : 0;
    for (int k = 0; k < order->n; k++)
        if (is_beside(order, i, k, side))
            sum += fmax(0, ks_hand_short_mm(order->bodies[i].box, order->bodies[k].box,
                                            side == 0 ? -1 : 1, need_mm(order, i, k)));
    return sum;
}

static bool list_hand(ks_shelf_search *search, struct ks_hand hand)
{
    ks_penalty *penalty = &search->descent.penalty;
    if (penalty->n_hands == KS_MOST_HANDS || hand.piece < 0)
        return false;
    search->hands[penalty->n_hands++] = hand;
    return true;
}

/* A wall beside it that stays where it is, as far in front and behind as anything. */
static ks_box wall_beside(const ks_shelf_order *order, int i, int side)
{
    ks_box one = order->bodies[i].box;
    double room = ks_shelf_room_to_wall(order, i, side), far = 1e6;
    return side == 0 ? (ks_box){-far, -far, one.x0 - room, far}
                     : (ks_box){one.x1 + room, -far, far, far};
}

/* Asks for room on one side of a piece; false when nothing there can give way. */
static bool list_side(ks_shelf_search *search, const ks_shelf_order *order, int i, int side)
{
    int n = search->trial.n, way = side == 0 ? -1 : 1;
    double hand_mm = order->space->entry.hand_room_mm + KS_ORDER_DOUBT_MM;
    if (order->sides[side].walled[i] &&
        !list_hand(search,
                   (struct ks_hand){i < n ? i : -1, -1, way, hand_mm, wall_beside(order, i, side)}))
        return false;
    for (int k = 0; k < order->n; k++) {
        if (!is_beside(order, i, k, side))
            continue;
        struct ks_hand hand = {i, k < n ? k : -1, way, need_mm(order, i, k), order->bodies[k].box};
        if (i >= n)
            hand = (struct ks_hand){k < n ? k : -1, -1, -way, hand.need_mm, order->bodies[i].box};
        if (!list_hand(search, hand))
            return false;
    }
    return true;
}

/* Asks for room where least is short. */
static bool ask_hands(ks_shelf_search *search, const ks_shelf_order *order)
{
    int best = -1, best_side = 0;
    double least = INFINITY;
    for (int i = 0; i < order->n; i++)
        for (int side = 0; side < 2 && is_jammed(order, i); side++) {
            double lacking = all_short_mm(order, i, side);
            if (lacking < least) {
                least = lacking;
                best = i;
                best_side = side;
            }
        }
    return best >= 0 && list_side(search, order, best, best_side);
}

/* Pushes aside in the trial what leaves hands no room, jam by jam; the last layout that holds is
 * kept in `spare`. True when all can go in. */
static bool pushed_aside(ks_shelf_search *search)
{
    enum { JAMS = 8 };
    bool loadable = false;
    search->descent.penalty.n_hands = 0;
    for (int jam = 0; jam < JAMS && !loadable; jam++) {
        ks_arena arena = {0};
        ks_packing_copy(&search->spare, &search->trial);
        ks_shelf_order order = order_of(search, &arena);
        loadable = order.n_in == 0;
        bool asked = !loadable && ask_hands(search, &order);
        ks_arena_finish(&arena);
        if (!loadable &&
            (!asked ||
             !ks_descent_run(&search->descent, (ks_descent_limits){250, 12, 0.8, 0, INFINITY, 0})))
            break;
    }
    search->descent.penalty.n_hands = 0;
    return loadable;
}

static double cost_of(const ks_shelf_search *search, int i)
{
    if (i >= search->trial.n)
        return INFINITY; /* it stands there already */
    const ks_shelf_item *item = &search->instance.items[search->trial.kind[i]];
    return fmax(item->worth, 0) + (item->must > 0 ? search->must_worth : 0);
}

static double cost_beside(const ks_shelf_search *search, const ks_shelf_order *order, int i,
                          int side)
{
    double sum = order->sides[side].walled[i] ? INFINITY : 0;
    for (int k = 0; k < order->n; k++)
        sum += is_beside(order, i, k, side) ? cost_of(search, k) : 0;
    return sum;
}

/* The cheapest to give up that lets something out: a piece that hands cannot hold, or what is worth
 * least beside it; where nothing is jammed, pieces bar each other's ways. */
static int given_up(const ks_shelf_search *search, const ks_shelf_order *order)
{
    int best = -1;
    double least = INFINITY;
    for (int i = 0; i < order->n; i++) {
        if (!order->in[i])
            continue;
        double cost = is_jammed(order, i) ? cost_of(search, i) : INFINITY;
        if (cost < least) {
            least = cost;
            best = i;
        }
        for (int side = 0; side < 2 && is_jammed(order, i); side++) {
            if (cost_beside(search, order, i, side) >= least)
                continue;
            least = cost_beside(search, order, i, side);
            for (int k = 0; k < order->n; k++)
                best = is_beside(order, i, k, side) ? k : best;
        }
    }
    for (int i = 0; i < search->trial.n && best < 0; i++)
        if (order->in[i] && cost_of(search, i) < least) {
            least = cost_of(search, i);
            best = i;
        }
    return best;
}

static void taken_out(ks_shelf_search *search)
{
    ks_arena arena = {0};
    ks_shelf_order order = order_of(search, &arena);
    bool *given = KS_TAKE(&arena, order.n, bool);
    while (order.n_in > 0) {
        int i = given_up(search, &order);
        if (i < 0)
            break; /* what stands there already bars itself, and no layout will do */
        given[i] = true;
        ks_shelf_order_without(&order, i);
    }
    for (int i = search->trial.n - 1; i >= 0; i--)
        if (given[i])
            ks_packing_remove(&search->trial, i);
    ks_arena_finish(&arena);
}

bool ks_search_made_loadable(ks_shelf_search *search)
{
    if (!search->instance.space.entry.from_front || pushed_aside(search))
        return true;
    ks_packing_copy(&search->trial, &search->spare);
    taken_out(search);
    return false;
}
