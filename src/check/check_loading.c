#include "check/check_judge.h"

#include "studio/stacked.h"

/* The way in: a piece is lowered straight down, or slid straight in from the front. */

static const double out_of_door_mm = 10000;

/* Whether some part of `upper` lies over some part of `lower`. */
static bool overhangs(const ks_thing *upper, const ks_thing *lower)
{
    for (int p = 0; p < upper->placed->n_parts; p++)
        for (int q = 0; q < lower->placed->n_parts; q++)
            if (ks_low_of(upper, p) >= ks_high_of(lower, q) - KS_GRID &&
                ks_box_distance(upper->boxes[p], lower->boxes[q]) < 0 &&
                ks_outline_nearer(&upper->placed->parts[p].outline,
                                  &lower->placed->parts[q].outline, 0))
                return true;
    return false;
}

/* The same of two in one stack, which pass through one another's hollows on their way down. */
static bool bars(const ks_thing *upper, const ks_thing *lower)
{
    for (int p = 0; p < upper->placed->n_parts; p++)
        for (int q = 0; q < lower->placed->n_parts; q++)
            if (ks_low_of(upper, p) >= ks_high_of(lower, q) - KS_GRID &&
                ks_parts_apart_mm(&upper->placed->parts[p], &lower->placed->parts[q]) < -KS_GRID)
                return true;
    return false;
}

static ks_way_in way_of(const ks_outline *part, ks_arena *arena)
{
    ks_outline *convex;
    ks_way_in way = {.n = ks_outline_convex_parts(part, arena, &convex)};
    way.at = KS_TAKE(arena, way.n, ks_outline);
    way.boxes = KS_TAKE(arena, way.n, ks_box);
    for (int i = 0; i < way.n; i++) {
        const ks_outline ends[2] = {
            convex[i], ks_outline_place(&convex[i], (ks_stand){0, -out_of_door_mm, 0}, arena)};
        way.at[i] = ks_outline_hull(ends, 2, arena);
        way.boxes[i] = ks_outline_box(&way.at[i]);
    }
    return way;
}

/* Whether it lies wholly before the part and, by more than a hair, straight before it: then it bars
 * the way, for what is in one piece sweeps over all that lies so. */
static bool is_right_before(const ks_outline *part, const ks_outline *other)
{
    const double hair_mm = 1;
    ks_box back = ks_outline_box(part), front = ks_outline_box(other);
    return front.y1 < back.y0 - hair_mm && front.x1 > back.x0 + hair_mm &&
           front.x0 < back.x1 - hair_mm;
}

/* Whether part q of `by` stands in the way that part p takes from the door to its place. */
static bool part_is_shut_out(ks_judge *j, const ks_thing *thing, int p, const ks_thing *by, int q)
{
    const ks_outline *part = &thing->placed->parts[p].outline,
                     *other = &by->placed->parts[q].outline;
    ks_way_in *way = &thing->ways[p];
    if (is_right_before(part, other))
        return true;
    if (way->n == 0)
        *way = way_of(part, j->arena);
    for (int i = 0; i < way->n; i++)
        if (ks_box_distance(way->boxes[i], by->boxes[q]) < 0 &&
            ks_outline_nearer(&way->at[i], other, -KS_GRID))
            return true;
    return false;
}

static bool is_shut_out(ks_judge *j, const ks_thing *thing, const ks_thing *by)
{
    if (by->box.y0 > thing->box.y1 || thing->box.x0 > by->box.x1 || by->box.x0 > thing->box.x1)
        return false;
    for (int p = 0; p < thing->placed->n_parts; p++)
        for (int q = 0; q < by->placed->n_parts; q++) {
            ks_box a = thing->boxes[p], b = by->boxes[q];
            if (!ks_meet(ks_low_of(thing, p), ks_high_of(thing, p), ks_low_of(by, q),
                         ks_high_of(by, q)) ||
                b.y0 > a.y1 || a.x0 > b.x1 || b.x0 > a.x1)
                continue;
            if (part_is_shut_out(j, thing, p, by, q))
                return true;
        }
    return false;
}

/* `first` goes in before `then`: nothing that comes later may need the way that is taken. */
static void judge_order(ks_judge *j, const ks_thing *first, const ks_thing *then)
{
    bool front = j->kiln && j->kiln->loading == KS_FRONT_LOADER;
    bool wrong = first->root == then->root
                     ? bars(first, then)
                     : overhangs(first, then) || (front && is_shut_out(j, then, first));
    ks_note(j, RULE_LOAD_ORDER, wrong ? -1 : 0, ks_spot_pair(j, first, then));
}

static void judge_orders(ks_judge *j, const int *when)
{
    for (int i = 0; i < j->n_things; i++)
        for (int k = 0; k < j->n_things; k++) {
            const ks_thing *a = &j->things[i], *b = &j->things[k];
            if (a->level == b->level && when[i] >= 0 && when[i] < when[k])
                judge_order(j, a, b);
        }
}

/* Clear width beside a piece, on the left (way -1) or right (way 1), when it goes in. */
static double room_beside(const ks_judge *j, const int *when, int i, int way)
{
    const ks_thing *thing = &j->things[i];
    double edge = way < 0 ? -thing->box.x0 : thing->box.x1, room = INFINITY;
    for (int p = 0; p < j->load->n_parts; p++) {
        const ks_chamber_part *wall = &j->load->parts[p];
        ks_box box = ks_outline_box(&wall->outline);
        if (ks_meet(wall->from_mm, wall->to_mm, thing->low, thing->high))
            room = fmin(room, (way < 0 ? -box.x0 : box.x1) - edge);
    }
    for (int k = 0; k < j->n_things; k++) {
        const ks_thing *other = &j->things[k];
        double middle = way * (other->box.x0 + other->box.x1 - thing->box.x0 - thing->box.x1);
        if (k == i || when[k] < 0 || when[k] > when[i] || other->level != thing->level ||
            middle <= 0 || other->box.y0 > thing->box.y1 || other->box.y1 < thing->box.y0)
            continue;
        room = fmin(room, (way < 0 ? -other->box.x1 : other->box.x0) - edge);
    }
    return room;
}

static void judge_hand_room(ks_judge *j, const int *when)
{
    const ks_rules *rules = &j->order->rules;
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        double broad = fmax(thing->box.x1 - thing->box.x0, thing->box.y1 - thing->box.y0);
        if (!thing->piece || broad < rules->large_mm || thing->placed->on_id || when[i] < 0)
            continue;
        double room = fmax(room_beside(j, when, i, -1), room_beside(j, when, i, 1));
        ks_note(j, RULE_HAND_ROOM, room - rules->hand_room_mm, ks_spot_thing(j, thing));
    }
}

void ks_check_loading(ks_judge *j, const int *when)
{
    judge_orders(j, when);
    ks_check_reach(j, when);
    if (j->kiln && j->kiln->loading == KS_FRONT_LOADER && j->order->rules.large_mm > 0)
        judge_hand_room(j, when);
}
