#include "pack/shelf/roomiest.h"

#include "pack/shelf/roomiest_near.h"

#include <math.h>

enum { BOXES_MOST = 400000 };

#define RADIANS_PER_DEGREE 0.017453292519943296
#define FINEST_DEG 0.01

typedef struct {
    ks_stand_box at;
    double bound_mm;
    bool by_turning; /* nothing else keeps it open */
} box;

/* The box with the highest bound first. */
typedef struct {
    ks_arena *arena;
    box *boxes;
    int n, room;
} heap;

static void push(heap *h, box b)
{
    h->boxes = KS_GROW(h->arena, h->boxes, h->n, &h->room, box);
    int i = h->n++;
    for (; i > 0 && h->boxes[(i - 1) / 2].bound_mm < b.bound_mm; i = (i - 1) / 2)
        h->boxes[i] = h->boxes[(i - 1) / 2];
    h->boxes[i] = b;
}

static box popped(heap *h)
{
    box top = h->boxes[0], last = h->boxes[--h->n];
    int i = 0;
    for (int child; (child = 2 * i + 1) < h->n; i = child) {
        if (child + 1 < h->n && h->boxes[child + 1].bound_mm > h->boxes[child].bound_mm)
            child++;
        if (h->boxes[child].bound_mm <= last.bound_mm)
            break;
        h->boxes[i] = h->boxes[child];
    }
    h->boxes[i] = last;
    return top;
}

/* Judges the middle of a box, keeps it if it is the best so far, and the box if it may hold better.
 */
static void try_it(const ks_near *near, const ks_stand_box *at, double within_mm, ks_roomiest *best,
                   heap *open)
{
    ks_known known = {best->slack_mm + within_mm / 2, best->slack_mm + within_mm};
    ks_nearness here = ks_near_judge(near, at, known);
    if (here.bound_mm <= best->slack_mm + within_mm)
        return;
    if (here.slack_mm > best->slack_mm)
        *best = (ks_roomiest){here.stand, here.slack_mm, 0, here.region, here.obstacle};
    if (here.bound_mm > best->slack_mm + within_mm)
        push(open, (box){*at, here.bound_mm, here.unturned_mm <= known.bound_mm});
}

static bool is_wide_by_angle(const ks_near *near, const box *b)
{
    bool wide = near->reach_mm * b->at.half_deg * RADIANS_PER_DEGREE > 2 * b->at.half_mm;
    return near->turns && (wide || (b->by_turning && b->at.half_deg > FINEST_DEG));
}

/* Into two by angle where that is what is wide, else into four. */
static void halved(const ks_near *near, const box *whole, double within_mm, ks_roomiest *best,
                   heap *open)
{
    const ks_stand_box *b = &whole->at;
    if (is_wide_by_angle(near, whole)) {
        for (int side = -1; side <= 1; side += 2) {
            ks_stand_box half = *b;
            half.half_deg = b->half_deg / 2;
            half.turn_deg = b->turn_deg + side * half.half_deg;
            try_it(near, &half, within_mm, best, open);
        }
        return;
    }
    for (int quarter = 0; quarter < 4; quarter++) {
        ks_stand_box part = *b;
        part.half_mm = b->half_mm / 2;
        part.x = b->x + (quarter & 1 ? part.half_mm : -part.half_mm);
        part.y = b->y + (quarter & 2 ? part.half_mm : -part.half_mm);
        try_it(near, &part, within_mm, best, open);
    }
}

/* A box around all regions: a piece whose middle is outside it stands in none. */
static ks_box widest_field(const ks_shelf_space *space)
{
    ks_box field = ks_outline_box(&space->regions[0].outline);
    for (int i = 1; i < space->n_regions; i++) {
        ks_box other = ks_outline_box(&space->regions[i].outline);
        field.x0 = fmin(field.x0, other.x0), field.y0 = fmin(field.y0, other.y0);
        field.x1 = fmax(field.x1, other.x1), field.y1 = fmax(field.y1, other.y1);
    }
    return field;
}

static void open_it(const ks_near *near, double within_mm, ks_roomiest *best, heap *open)
{
    ks_box field = widest_field(near->space);
    ks_stand_box whole = {.x = (field.x0 + field.x1) / 2, .y = (field.y0 + field.y1) / 2};
    whole.half_mm = fmax(field.x1 - field.x0, field.y1 - field.y0) / 2;
    if (near->turns) {
        whole.half_deg = 22.5;
        for (int side = 0; side < 8; side++) {
            whole.turn_deg = 22.5 + 45 * side;
            try_it(near, &whole, within_mm, best, open);
        }
        return;
    }
    double step = near->item->turn_step_deg > 0 ? near->item->turn_step_deg : 360;
    for (double turn = 0; turn < 360 - step / 2 || turn == 0; turn += step) {
        whole.turn_deg = fmod(near->item->turn_first_deg + turn, 360);
        try_it(near, &whole, within_mm, best, open);
    }
}

/* Best first, until no box can hold more than the best by `within_mm`, or the best is enough. */
static void search(const ks_near *near, double within_mm, double enough_mm, ks_roomiest *best,
                   ks_arena *arena)
{
    heap open = {.arena = arena};
    open_it(near, within_mm, best, &open);
    for (int boxes = 0; open.n > 0 && boxes < BOXES_MOST && best->slack_mm < enough_mm; boxes++) {
        if (open.boxes[0].bound_mm <= best->slack_mm + within_mm)
            break;
        box next = popped(&open);
        halved(near, &next, within_mm, best, &open);
    }
    best->bound_mm = best->slack_mm + within_mm;
    if (open.n > 0)
        best->bound_mm = fmax(best->bound_mm, open.boxes[0].bound_mm);
}

ks_roomiest ks_roomiest_above(const ks_shelf_space *space, const ks_shelf_item *item,
                              double floor_mm, double within_mm)
{
    ks_arena arena = {0};
    ks_roomiest best = {.slack_mm = floor_mm, .region = -1, .obstacle = -1};
    ks_near near = ks_near_of(space, item, &arena);
    search(&near, within_mm, INFINITY, &best, &arena);
    ks_arena_finish(&arena);
    return best;
}

ks_roomiest ks_roomiest_find(const ks_shelf_space *space, const ks_shelf_item *item,
                             double within_mm)
{
    return ks_roomiest_above(space, item, -INFINITY, within_mm);
}

bool ks_roomiest_reaches(const ks_shelf_space *space, const ks_shelf_item *item, double slack_mm,
                         double within_mm)
{
    ks_arena arena = {0};
    /* Starting from less than is asked by `within_mm`, boxes that cannot reach it are never
     * open_it.
     */
    ks_roomiest best = {.slack_mm = slack_mm - within_mm, .region = -1, .obstacle = -1};
    ks_near near = ks_near_of(space, item, &arena);
    search(&near, within_mm, slack_mm, &best, &arena);
    ks_arena_finish(&arena);
    return best.slack_mm >= slack_mm;
}
