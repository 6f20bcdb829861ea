#include "check/check_judge.h"

#include "studio/stacked.h"

/* Whether fingers still reach down beside a piece that goes into a top loader after taller ones, or
 * into other ware. */

enum { FINGERS = 16, MOST_STEPS = 40 };

typedef struct {
    const ks_thing *thing;
    ks_outline *parts; /* its own */
    ks_arena scratch;
    int n, room;
    ks_part *taller; /* parts of what is in already, above the piece and near it */
} reach;

static void note_taller(reach *r, const ks_thing *other, double across)
{
    for (int p = 0; p < other->placed->n_parts; p++) {
        if (ks_high_of(other, p) <= r->thing->high + KS_GRID ||
            ks_box_distance(other->boxes[p], r->thing->box) > 2 * across)
            continue;
        r->taller = KS_GROW(&r->scratch, r->taller, r->n, &r->room, ks_part);
        r->taller[r->n] = other->placed->parts[p];
        r->taller[r->n].outline = ks_thing_widest(other, p);
        if (other->root != r->thing->root)
            r->taller[r->n].hollow.n = 0;
        r->n++;
    }
}

static double clear_of_piece(const reach *r, const ks_outline *finger)
{
    double least = INFINITY;
    for (int p = 0; p < r->thing->placed->n_parts; p++)
        least = fmin(least, ks_outline_distance(finger, &r->parts[p]));
    return least;
}

/* A finger on one side of the piece, moved towards its middle until it touches. */
static ks_outline finger_at(const reach *r, int nth, double across, ks_point *at)
{
    ks_box box = r->thing->box;
    ks_point middle = {(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    const double half_x = (box.x1 - box.x0) / 2, half_y = (box.y1 - box.y0) / 2;
    ks_rotation way = ks_rotation_of(360.0 * nth / FINGERS);
    double off = half_x + half_y + across, clear = across;
    for (int step = 0; step < MOST_STEPS && clear > KS_GRID / 10 && off > 0; step++) {
        *at = (ks_point){middle.x + off * way.c, middle.y + off * way.s};
        clear = clear_of_piece(r, &(ks_outline){1, at, across / 2});
        off -= clear;
    }
    return (ks_outline){1, at, across / 2};
}

static bool finds_room(const reach *r, int nth, double across)
{
    ks_point at;
    ks_part finger = {.outline = finger_at(r, nth, across, &at)};
    for (int i = 0; i < r->n; i++)
        if (ks_parts_apart_mm(&finger, &r->taller[i]) < 0)
            return false;
    return true;
}

static void judge_ring(ks_judge *j, const int *when, int i, double across)
{
    bool carried = j->things[i].carrier >= 0;
    reach r = {.thing = &j->things[i]};
    for (int k = 0; k < j->n_things; k++) {
        const ks_thing *other = &j->things[k];
        if (other->level == r.thing->level && (carried || other->root != r.thing->root) && k != i &&
            when[k] >= 0 && when[k] < when[i])
            note_taller(&r, other, across);
    }
    r.parts = KS_TAKE(&r.scratch, r.thing->placed->n_parts, ks_outline);
    for (int p = 0; p < r.thing->placed->n_parts; p++)
        r.parts[p] = ks_thing_widest(r.thing, p);
    bool reached = r.n == 0;
    for (int f = 0; f < FINGERS && !reached; f++)
        reached = finds_room(&r, f, across);
    ks_note(j, RULE_LOAD_ORDER, reached ? 0 : -1, ks_spot_thing(j, r.thing));
    ks_arena_finish(&r.scratch);
}

void ks_check_reach(ks_judge *j, const int *when)
{
    bool from_above = j->kiln && j->kiln->loading == KS_TOP_LOADER;
    for (int i = 0; from_above && i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        bool leans = thing->placed->way == KS_EDGE;
        double across = thing->carrier < 0 ? j->order->rules.hand_room_mm
                        : leans || thing->placed->way == KS_NO_WAY
                            ? 0
                            : j->order->rules.stacking.finger_mm;
        if (when[i] >= 0 && across > 0)
            judge_ring(j, when, i, across);
    }
}
