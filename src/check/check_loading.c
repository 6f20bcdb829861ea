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

/* Whether `other` stands in the way that a part takes from the door to its place. */
static bool part_is_shut_out(const ks_outline *part, const ks_outline *other)
{
    ks_arena scratch = {0};
    ks_outline *convex;
    int n = ks_outline_convex_parts(part, &scratch, &convex);
    bool shut_out = false;
    for (int i = 0; i < n && !shut_out; i++) {
        const ks_outline ends[2] = {
            convex[i], ks_outline_place(&convex[i], (ks_stand){0, -out_of_door_mm, 0}, &scratch)};
        ks_outline way = ks_outline_hull(ends, 2, &scratch);
        shut_out = ks_outline_nearer(&way, other, -KS_GRID);
    }
    ks_arena_finish(&scratch);
    return shut_out;
}

static bool is_shut_out(const ks_thing *thing, const ks_thing *by)
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
            if (part_is_shut_out(&thing->placed->parts[p].outline, &by->placed->parts[q].outline))
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
                     : overhangs(first, then) || (front && is_shut_out(then, first));
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
