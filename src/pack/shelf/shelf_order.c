#include "pack/shelf/shelf_order.h"

#include "pack/shelf/shelf_rule.h"
#include "shape/plane.h"

#include <math.h>

/* A finger comes to touch a body in steps, so its place is known no better than this. */
#define FINGER_DOUBT_MM 0.05

/* Whether some part of `upper` is over some part of `lower`. */
static bool overhangs(const ks_shelf_body *upper, const ks_shelf_body *lower)
{
    if (!ks_boxes_near(upper->box, lower->box, KS_ORDER_DOUBT_MM))
        return false;
    for (int p = 0; p < upper->item->n_parts; p++)
        for (int q = 0; q < lower->item->n_parts; q++)
            if (upper->item->parts[p].from_mm >= lower->item->parts[q].to_mm &&
                ks_boxes_near(upper->boxes[p], lower->boxes[q], KS_ORDER_DOUBT_MM) &&
                ks_outline_nearer(&upper->at[p], &lower->at[q], KS_ORDER_DOUBT_MM))
                return true;
    return false;
}

static bool has_overhang(const ks_shelf_item *item)
{
    for (int p = 0; p < item->n_parts; p++)
        if (item->parts[p].from_mm > 0)
            return true;
    return false;
}

/* Whether something so far in front of the back one's front would have to be passed. */
static bool box_bars(ks_box back, ks_box front)
{
    return front.y0 <= back.y1 + KS_ORDER_DOUBT_MM && back.x0 <= front.x1 + KS_ORDER_DOUBT_MM &&
           front.x0 <= back.x1 + KS_ORDER_DOUBT_MM;
}

/* Whether it lies wholly before the back one and somewhere straight before it: then it surely bars,
 * for what is in one piece sweeps over all that lies so. */
static bool is_right_before(ks_box back, ks_box front)
{
    return front.y1 <= back.y0 && back.x0 < front.x1 && front.x0 < back.x1;
}

static bool disc_bars(const ks_outline *back, const ks_outline *front)
{
    double aside = fabs(back->at[0].x - front->at[0].x) - back->round - front->round;
    return front->at[0].y <= back->at[0].y ? aside < KS_ORDER_DOUBT_MM
                                           : ks_outline_nearer(back, front, KS_ORDER_DOUBT_MM);
}

/* What a part sweeps over on its way from the door, convex piece by piece: found when it is first
 * asked for, since most parts are never in anything's way. */
typedef struct {
    int n; /* 0 = not found yet */
    ks_outline *pieces;
    ks_box *boxes;
} sweep;

static sweep sweep_of(const ks_outline *part, ks_arena *arena)
{
    const double out_of_door_mm = 10000;
    ks_outline *convex;
    sweep found = {.n = ks_outline_convex_parts(part, arena, &convex)};
    found.pieces = KS_TAKE(arena, found.n, ks_outline);
    found.boxes = KS_TAKE(arena, found.n, ks_box);
    for (int i = 0; i < found.n; i++) {
        ks_outline ends[2] = {
            convex[i], ks_outline_place(&convex[i], (ks_stand){0, -out_of_door_mm, 0}, arena)};
        found.pieces[i] = ks_outline_hull(ends, 2, arena);
        found.boxes[i] = ks_outline_box(&found.pieces[i]);
    }
    return found;
}

/* Whether a part slid in from the front would have to pass through the other. */
static bool part_bars(const ks_shelf_body *back, int p, sweep *way, const ks_shelf_body *front,
                      int q, ks_arena *arena)
{
    if (back->at[p].n == 1 && front->at[q].n == 1)
        return disc_bars(&back->at[p], &front->at[q]);
    if (is_right_before(back->boxes[p], front->boxes[q]))
        return true;
    if (way->n == 0)
        *way = sweep_of(&back->at[p], arena);
    for (int i = 0; i < way->n; i++)
        if (ks_boxes_near(way->boxes[i], front->boxes[q], KS_ORDER_DOUBT_MM) &&
            ks_outline_nearer(&way->pieces[i], &front->at[q], KS_ORDER_DOUBT_MM))
            return true;
    return false;
}

static bool heights_meet(const ks_part *a, const ks_part *b)
{
    return a->from_mm < b->to_mm && b->from_mm < a->to_mm;
}

/* Whether the front one stands in the way that the back one takes from the door. */
static bool bars(const ks_shelf_body *back, sweep *ways, const ks_shelf_body *front,
                 ks_arena *arena)
{
    if (!box_bars(back->box, front->box))
        return false;
    for (int p = 0; p < back->item->n_parts; p++)
        for (int q = 0; q < front->item->n_parts; q++)
            if (heights_meet(&back->item->parts[p], &front->item->parts[q]) &&
                box_bars(back->boxes[p], front->boxes[q]) &&
                part_bars(back, p, &ways[p], front, q, arena))
                return true;
    return false;
}

/* Which have to go in after which. */
static void find_laws(ks_shelf_order *order)
{
    ks_arena scratch = {0};
    bool front = order->space->entry.from_front;
    for (int k = 0; k < order->n; k++) {
        const ks_shelf_body *other = &order->bodies[k];
        sweep *ways = KS_TAKE(&scratch, other->item->n_parts, sweep);
        for (int i = 0; i < order->n; i++) {
            const ks_shelf_body *one = &order->bodies[i];
            bool law = i != k && ((has_overhang(one->item) && overhangs(one, other)) ||
                                  (front && bars(other, ways, one, &scratch)));
            order->after[i * order->n + k] = law;
            order->n_waiting[k] += law;
        }
    }
    ks_arena_finish(&scratch);
}

double ks_shelf_room_to_wall(const ks_shelf_order *order, int body, int side)
{
    const ks_shelf_body *one = &order->bodies[body];
    double room = INFINITY;
    for (int r = 0; r < order->space->n_regions; r++) {
        const ks_shelf_region *region = &order->space->regions[r];
        bool holds = false;
        for (int p = 0; p < one->item->n_parts && region->is_wall && !holds; p++)
            holds = ks_shelf_region_holds(region, &one->item->parts[p]);
        if (!holds)
            continue;
        ks_box wall = ks_outline_box(&region->outline);
        room = fmin(room, side == 0 ? one->box.x0 - wall.x0 : wall.x1 - one->box.x1);
    }
    return room;
}

double ks_shelf_room_to(const ks_shelf_order *order, int body, int other, int side)
{
    ks_box one = order->bodies[body].box, two = order->bodies[other].box;
    double middle = (two.x0 + two.x1 - one.x0 - one.x1) * (side == 0 ? -1 : 1);
    if (middle < -4 * KS_ORDER_DOUBT_MM || two.y0 > one.y1 + KS_ORDER_DOUBT_MM ||
        two.y1 < one.y0 - KS_ORDER_DOUBT_MM)
        return INFINITY;
    return side == 0 ? one.x0 - two.x1 : two.x0 - one.x1;
}

bool ks_shelf_is_large(const ks_shelf_entry *entry, const ks_shelf_body *body)
{
    double least = entry->large_mm - KS_ORDER_DOUBT_MM;
    return entry->large_mm > 0 && !body->item->is_pinched &&
           (body->box.x1 - body->box.x0 >= least || body->box.y1 - body->box.y0 >= least);
}

static void find_hands(ks_shelf_order *order, ks_arena *arena)
{
    int n = order->n;
    double least = order->space->entry.hand_room_mm + KS_ORDER_DOUBT_MM;
    for (int i = 0; i < n; i++)
        order->large[i] = ks_shelf_is_large(&order->space->entry, &order->bodies[i]);
    for (int s = 0; s < 2; s++) {
        struct ks_hand_side *side = &order->sides[s];
        *side = (struct ks_hand_side){KS_TAKE(arena, n * n, bool), KS_TAKE(arena, n, bool),
                                      KS_TAKE(arena, n, int)};
        for (int i = 0; i < n; i++) {
            side->walled[i] = order->large[i] && ks_shelf_room_to_wall(order, i, s) < least;
            for (int k = 0; k < n && order->large[i]; k++) {
                bool beside = i != k && ks_shelf_room_to(order, i, k, s) < least;
                side->beside[i * n + k] = beside;
                side->n_beside[i] += beside;
            }
        }
    }
}

static double top_of(const ks_shelf_body *body)
{
    double top = 0;
    for (int p = 0; p < body->item->n_parts; p++)
        top = fmax(top, body->item->parts[p].to_mm);
    return top;
}

static double finger_room(const ks_shelf_body *body, ks_point at, double r, double down_to)
{
    ks_outline finger = {1, &at, r};
    double least = INFINITY;
    for (int p = 0; p < body->item->n_parts; p++)
        if (body->item->parts[p].to_mm > down_to)
            least = fmin(least, ks_outline_distance(&finger, &body->at[p]));
    return least;
}

/* Where a finger that comes in along a line to the middle touches the body. */
static ks_point finger_beside(const ks_shelf_body *body, ks_rotation way, double across)
{
    enum { STEPS = 24 };
    ks_box box = body->box;
    ks_point middle = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2}, at = middle;
    double off = (box.x1 - box.x0 + box.y1 - box.y0) / 2 + across, room = across;
    for (int i = 0; i < STEPS && room > KS_ORDER_DOUBT_MM && off > 0; i++) {
        at = (ks_point){middle.x + off * way.c, middle.y + off * way.s};
        room = finger_room(body, at, across / 2, 0);
        off -= room;
    }
    return at;
}

static void find_fingers_beside(ks_shelf_order *order, int i, double across)
{
    const ks_shelf_body *one = &order->bodies[i];
    double top = top_of(one);
    bool any = false;
    for (int k = 0; k < order->n && !any; k++)
        any = k != i && top_of(&order->bodies[k]) > top &&
              ks_boxes_near(one->box, order->bodies[k].box, 2 * across);
    for (int f = 0; f < KS_FINGERS && any; f++) {
        ks_point at = finger_beside(one, ks_rotation_of(360.0 * f / KS_FINGERS), across);
        ks_box finger = {at.x, at.y, at.x, at.y};
        for (int k = 0; k < order->n; k++)
            if (k != i && ks_boxes_near(finger, order->bodies[k].box, across) &&
                finger_room(&order->bodies[k], at, across / 2, top) < FINGER_DOUBT_MM)
                order->blocked[i * order->n + k] |= (uint16_t)(1u << f);
    }
}

static void find_fingers(ks_shelf_order *order, ks_arena *arena)
{
    double across = order->space->entry.hand_room_mm;
    order->blocked = KS_TAKE(arena, order->n * order->n, uint16_t);
    for (int i = 0; i < order->n && across > 0; i++)
        find_fingers_beside(order, i, across);
}

bool ks_shelf_reached(const ks_shelf_order *order, int body, const bool *in)
{
    const unsigned all = (1u << KS_FINGERS) - 1;
    unsigned none = 0;
    for (int k = 0; order->blocked && k < order->n; k++)
        if (in[k])
            none |= order->blocked[body * order->n + k];
    return none != all;
}

static bool is_free_beside(const ks_shelf_order *order, int i, int s)
{
    return !order->sides[s].walled[i] && order->sides[s].n_beside[i] == 0;
}

static bool can_come_out(const ks_shelf_order *order, int i)
{
    return order->n_waiting[i] == 0 && ks_shelf_reached(order, i, order->in) &&
           (!order->large[i] || is_free_beside(order, i, 0) || is_free_beside(order, i, 1));
}

static void gone(ks_shelf_order *order, int i)
{
    order->in[i] = false;
    order->n_in--;
    for (int k = 0; k < order->n; k++) {
        order->n_waiting[k] -= order->after[i * order->n + k];
        for (int s = 0; s < 2; s++)
            order->sides[s].n_beside[k] -= order->sides[s].beside[k * order->n + i];
    }
}

/* How many are out that would leave hands no room on a side: they go in later. */
static int n_later(const ks_shelf_order *order, int i, int s)
{
    int sum = 0;
    for (int k = 0; k < order->n; k++)
        sum += !order->in[k] && order->sides[s].beside[i * order->n + k];
    return sum;
}

/* What is out and beside a large piece, on the side where fewer are, goes in after it. */
static void hands_made_law(ks_shelf_order *order, int i)
{
    int s = order->space->entry.side, other = 1 - s;
    if (!is_free_beside(order, i, s) ||
        (is_free_beside(order, i, other) && n_later(order, i, other) < n_later(order, i, s)))
        s = other;
    for (int k = 0; k < order->n; k++)
        if (!order->in[k] && order->sides[s].beside[i * order->n + k])
            order->after[k * order->n + i] = true;
}

static void taken_out(ks_shelf_order *order)
{
    for (bool more = true; more;) {
        more = false;
        for (int i = order->n - 1; i >= 0; i--)
            if (order->in[i] && can_come_out(order, i)) {
                gone(order, i);
                if (order->large[i])
                    hands_made_law(order, i);
                more = true;
            }
    }
}

ks_shelf_order ks_shelf_order_find(const ks_shelf_space *space, const ks_shelf_item *items,
                                   int n_spots, const ks_shelf_spot *spots, ks_arena *arena)
{
    int n = n_spots + space->n_standing;
    ks_shelf_order order = {.space = space,
                            .n = n,
                            .bodies = KS_TAKE(arena, n, ks_shelf_body),
                            .after = KS_TAKE(arena, n * n, bool),
                            .large = KS_TAKE(arena, n, bool),
                            .n_waiting = KS_TAKE(arena, n, int),
                            .n_in = n,
                            .in = KS_TAKE(arena, n, bool)};
    for (int i = 0; i < n; i++) {
        order.in[i] = true;
        order.bodies[i] = i < n_spots
                              ? ks_shelf_body_of(&items[spots[i].item], spots[i].stand, arena)
                              : ks_shelf_body_of(space->standing[i - n_spots].item,
                                                 space->standing[i - n_spots].stand, arena);
    }
    find_laws(&order);
    find_hands(&order, arena);
    if (!space->entry.from_front)
        find_fingers(&order, arena);
    taken_out(&order);
    return order;
}

void ks_shelf_order_without(ks_shelf_order *order, int body)
{
    gone(order, body);
    taken_out(order);
}

bool ks_shelf_loadable(const ks_shelf_space *space, const ks_shelf_item *items, int n_spots,
                       const ks_shelf_spot *spots)
{
    bool asked = space->entry.from_front;
    for (int i = 0; i < n_spots && !asked; i++)
        asked = has_overhang(&items[spots[i].item]);
    for (int i = 0; i < space->n_standing && !asked; i++)
        asked = has_overhang(space->standing[i].item);
    if (!asked)
        return true;
    ks_arena arena = {0};
    ks_shelf_order order = ks_shelf_order_find(space, items, n_spots, spots, &arena);
    ks_arena_finish(&arena);
    return order.n_in == 0;
}
