#include "place/draft/draft_plan.h"

#include <stdlib.h>

/* Every level: the posts under it, its shelves, then its ware. */

typedef struct {
    const ks_job *job;
    const ks_load *load;
    const ks_level *level;
    bool *after; /* [i * n + k]: piece i may only go in after piece k */
} loading;

/* A part of `low` lies under a part of `high`: seen from above they meet (or nearly), and the low
 * one is wholly below. */
static bool overhangs(const ks_placed *high, const ks_placed *low)
{
    for (int i = 0; i < high->n_parts; i++)
        for (int k = 0; k < low->n_parts; k++)
            if (low->parts[k].to_mm <= high->parts[i].from_mm &&
                ks_outline_distance(&high->parts[i].outline, &low->parts[k].outline) < 0)
                return true;
    return false;
}

#define OUT_OF_DOOR_MM 10000.0

static bool heights_meet(const ks_part *a, const ks_part *b)
{
    return a->from_mm < b->to_mm && b->from_mm < a->to_mm;
}

/* Whether a part slid in from the front would have to pass through the other. */
static bool passes(const ks_outline *part, const ks_outline *other)
{
    ks_box a = ks_outline_box(part), b = ks_outline_box(other);
    if (b.y0 > a.y1 || a.x0 > b.x1 || b.x0 > a.x1)
        return false;
    ks_arena scratch = {0};
    ks_outline *convex;
    int n = ks_outline_convex_parts(part, &scratch, &convex);
    bool through = false;
    for (int i = 0; i < n && !through; i++) {
        ks_stand out = {0, -OUT_OF_DOOR_MM, 0};
        ks_outline ends[2] = {convex[i], ks_outline_placed(&convex[i], out, &scratch)};
        ks_outline way = ks_outline_hull(ends, 2, &scratch);
        through = ks_outline_distance(&way, other) < 0;
    }
    ks_arena_finish(&scratch);
    return through;
}

static bool is_behind(const ks_placed *back, const ks_placed *front)
{
    for (int i = 0; i < back->n_parts; i++)
        for (int k = 0; k < front->n_parts; k++)
            if (heights_meet(&back->parts[i], &front->parts[k]) &&
                passes(&back->parts[i].outline, &front->parts[k].outline))
                return true;
    return false;
}

static double mass_of(const loading *l, int piece)
{
    int good = l->level->pieces[piece].piece;
    return good < 0 ? 0 : l->job->items[good].mass_kg;
}

static ks_box box_of(const ks_placed *piece)
{
    ks_box sum = {1e300, 1e300, -1e300, -1e300};
    for (int i = 0; i < piece->n_parts; i++) {
        ks_box box = ks_outline_box(&piece->parts[i].outline);
        sum.x0 = box.x0 < sum.x0 ? box.x0 : sum.x0;
        sum.y0 = box.y0 < sum.y0 ? box.y0 : sum.y0;
        sum.x1 = box.x1 > sum.x1 ? box.x1 : sum.x1;
        sum.y1 = box.y1 > sum.y1 ? box.y1 : sum.y1;
    }
    return sum;
}

/* Pieces that are set in from the door with both hands. */
static bool is_large(const loading *l, int piece)
{
    double least = l->job->order->rules.large_mm;
    const ks_placed *p = &l->level->pieces[piece];
    if (l->job->order->kilns[l->load->kiln].loading != KS_FRONT_LOADER || !(least > 0) ||
        p->role == KS_CONES)
        return false;
    ks_box box = box_of(p);
    return box.x1 - box.x0 >= least || box.y1 - box.y0 >= least;
}

/* Clear width on one side (way -1 left, 1 right) of a piece that goes in after those that are. */
static double room_beside(const loading *l, int piece, const bool *in, int way)
{
    const ks_load *load = l->load;
    ks_box own = box_of(&l->level->pieces[piece]);
    double edge = way < 0 ? -own.x0 : own.x1, room = 1e300;
    double low = l->level->z_mm, high = low + l->level->pieces[piece].top_mm;
    for (int i = 0; i < load->n_parts; i++) {
        if (load->parts[i].to_mm <= low || load->parts[i].from_mm >= high)
            continue; /* the arch above it leaves its hands free */
        ks_box wall = ks_outline_box(&load->parts[i].outline);
        double here = (way < 0 ? -wall.x0 : wall.x1) - edge;
        room = here < room ? here : room;
    }
    for (int k = 0; k < l->level->n_pieces; k++) {
        ks_box box = box_of(&l->level->pieces[k]);
        if (k == piece || !in[k] || way * (box.x0 + box.x1 - own.x0 - own.x1) <= 0 ||
            box.y0 > own.y1 || box.y1 < own.y0)
            continue;
        double here = (way < 0 ? -box.x1 : box.x0) - edge;
        room = here < room ? here : room;
    }
    return room;
}

static bool has_hand_room(const loading *l, int piece, const bool *in)
{
    double least = l->job->order->rules.hand_room_mm;
    return !is_large(l, piece) || room_beside(l, piece, in, -1) >= least ||
           room_beside(l, piece, in, 1) >= least;
}

/* What must come before is law; what is left is taste: from the back in a front loader, the heavy
 * first in a top loader, cones last. */
static bool goes_sooner(const loading *l, int a, int b)
{
    const ks_placed *x = &l->level->pieces[a], *y = &l->level->pieces[b];
    if (is_large(l, a) != is_large(l, b))
        return is_large(l, a);
    if ((x->role == KS_CONES) != (y->role == KS_CONES))
        return y->role == KS_CONES;
    bool front = l->job->order->kilns[l->load->kiln].loading == KS_FRONT_LOADER;
    if (front && x->stand.y != y->stand.y)
        return x->stand.y > y->stand.y;
    if (mass_of(l, a) != mass_of(l, b))
        return mass_of(l, a) > mass_of(l, b);
    if (x->stand.y != y->stand.y)
        return x->stand.y > y->stand.y;
    return x->stand.x < y->stand.x;
}

static void find_laws(loading *l)
{
    bool front = l->job->order->kilns[l->load->kiln].loading == KS_FRONT_LOADER;
    int n = l->level->n_pieces;
    for (int i = 0; i < n; i++)
        for (int k = 0; k < n; k++) {
            const ks_placed *x = &l->level->pieces[i], *y = &l->level->pieces[k];
            l->after[i * n + k] = i != k && (overhangs(x, y) || (front && is_behind(y, x)));
        }
}

/* The piece to put in next; `lawful` says whether it can be. */
static int next_piece(const loading *l, const bool *in, bool *lawful)
{
    int n = l->level->n_pieces, best = -1, fallback = -1;
    for (int i = 0; i < n; i++) {
        if (in[i])
            continue;
        bool free = true;
        for (int k = 0; k < n && free; k++)
            free = in[k] || !l->after[i * n + k];
        free = free && has_hand_room(l, i, in);
        if (free && (best < 0 || goes_sooner(l, i, best)))
            best = i;
        if (fallback < 0 || goes_sooner(l, i, fallback))
            fallback = i;
    }
    *lawful = best >= 0;
    return best >= 0 ? best : fallback;
}

static void put(ks_load *load, ks_put what, int level, int item)
{
    load->steps[load->n_steps++] = (ks_step){what, level, item};
}

static void fill_level(const ks_job *job, ks_load *load, int level, ks_arena *arena)
{
    loading l = {job, load, &load->levels[level], NULL};
    int n = l.level->n_pieces;
    bool *in = KS_TAKE(arena, n, bool);
    l.after = KS_TAKE(arena, n * n, bool);
    find_laws(&l);
    for (int done = 0; done < n; done++) {
        bool lawful;
        int i = next_piece(&l, in, &lawful);
        in[i] = true;
        put(load, l.level->pieces[i].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, level, i);
    }
}

static double worth_of(const loading *l, int piece)
{
    int good = l->level->pieces[piece].piece;
    return good < 0 ? 1e299 : l->job->worth[good] * l->job->urgency[good];
}

static bool is_beside(const loading *l, int a, int b)
{
    ks_box x = box_of(&l->level->pieces[a]), y = box_of(&l->level->pieces[b]);
    return x.y0 <= y.y1 && y.y0 <= x.y1;
}

/* The piece worth least that may go so that the stuck one can be put in: of those still out, or,
 * where hands have no room, of those beside it. */
static int given_up(const loading *l, bool *in, int stuck)
{
    bool barred = false;
    int n = l->level->n_pieces, worst = stuck;
    in[stuck] = false;
    for (int k = 0; k < n; k++)
        barred = barred || (!in[k] && l->after[stuck * n + k]);
    double least = worth_of(l, stuck);
    for (int i = 0; i < n; i++)
        if ((barred ? !in[i] : in[i] && is_beside(l, i, stuck)) && worth_of(l, i) < least) {
            least = worth_of(l, i);
            worst = i;
        }
    return worst;
}

int ks_level_stuck(const ks_job *job, const ks_load *load, int level)
{
    ks_arena scratch = {0};
    loading l = {job, load, &load->levels[level], NULL};
    int n = l.level->n_pieces, stuck = -1;
    bool *in = KS_TAKE(&scratch, n, bool);
    l.after = KS_TAKE(&scratch, n * n, bool);
    find_laws(&l);
    for (int done = 0; done < n && stuck < 0; done++) {
        bool lawful;
        int i = next_piece(&l, in, &lawful);
        in[i] = true;
        stuck = lawful ? -1 : given_up(&l, in, i);
    }
    ks_arena_finish(&scratch);
    return stuck;
}

static bool shelves_meet(const ks_level *low, const ks_level *up)
{
    for (int i = 0; i < low->n_shelves; i++)
        for (int k = 0; k < up->n_shelves; k++)
            if (ks_outline_distance(&low->shelves[i].outline, &up->shelves[k].outline) < 0)
                return true;
    return false;
}

/* A step for each level that posts under this one stand over, and for the floor. */
static void put_posts(ks_load *load, int level)
{
    const ks_level *up = &load->levels[level];
    double under = up->n_shelves > 0 ? up->z_mm - up->shelves[0].thickness_mm : up->z_mm;
    bool floor = false;
    for (int i = 0; i < load->n_posts; i++)
        floor = floor ||
                (load->posts[i].from_mm <= KS_GRID && load->posts[i].to_mm >= under - KS_GRID &&
                 load->posts[i].to_mm <= under + KS_GRID);
    if (floor)
        put(load, KS_PUT_POSTS, -1, -1);
    for (int l = 0; l < load->n_levels; l++) {
        bool carries = false;
        for (int i = 0; i < load->n_posts && !carries; i++)
            carries = load->posts[i].from_mm > load->levels[l].z_mm - KS_GRID &&
                      load->posts[i].from_mm < load->levels[l].z_mm + KS_GRID &&
                      load->posts[i].to_mm > under - KS_GRID &&
                      load->posts[i].to_mm < under + KS_GRID;
        if (carries && shelves_meet(&load->levels[l], up))
            put(load, KS_PUT_POSTS, l, -1);
    }
}

void ks_answer_steps(const ks_job *job, ks_load *load, ks_arena *arena)
{
    int most = 0;
    for (int l = 0; l < load->n_levels; l++)
        most += 1 + load->n_levels + load->levels[l].n_shelves + load->levels[l].n_pieces;
    load->steps = KS_TAKE(arena, most, ks_step);
    for (int l = 0; l < load->n_levels; l++) {
        put_posts(load, l);
        for (int s = 0; s < load->levels[l].n_shelves; s++)
            put(load, KS_PUT_SHELF, l, s);
        fill_level(job, load, l, arena);
    }
}
