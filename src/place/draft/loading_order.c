#include "pack/shelf/shelf_order.h"
#include "place/draft/draft_plan.h"

#include <stdlib.h>

/* Every level: the posts under it, its shelves, then its ware. */

typedef struct {
    const ks_job *job;
    const ks_level *level;
    bool front;
    ks_shelf_order order;
} loading;

static double mass_of(const loading *l, int piece)
{
    int item = l->level->pieces[piece].piece;
    return item < 0 ? 0 : l->job->items[item].mass_kg;
}

/* What must come before is law; what is left is taste: from the back in a front loader, the heavy
 * first in a top loader, cones last. */
static bool goes_sooner(const loading *l, int a, int b)
{
    const ks_placed *x = &l->level->pieces[a], *y = &l->level->pieces[b];
    if (l->order.large[a] != l->order.large[b])
        return l->order.large[a];
    if ((x->role == KS_CONES) != (y->role == KS_CONES))
        return y->role == KS_CONES;
    if (l->front && x->stand.y != y->stand.y)
        return x->stand.y > y->stand.y;
    if (mass_of(l, a) != mass_of(l, b))
        return mass_of(l, a) > mass_of(l, b);
    if (x->stand.y != y->stand.y)
        return x->stand.y > y->stand.y;
    return x->stand.x < y->stand.x;
}

static bool waits(const loading *l, const bool *in, int piece)
{
    for (int k = 0; k < l->order.n; k++)
        if (!in[k] && l->order.after[piece * l->order.n + k])
            return true;
    return false;
}

/* Of the pieces that wait for nothing the one to put in next; were there none, of all. */
static int next_piece(const loading *l, const bool *in)
{
    int best = -1, any = -1;
    for (int i = 0; i < l->order.n; i++) {
        if (in[i])
            continue;
        if (any < 0 || goes_sooner(l, i, any))
            any = i;
        if (!waits(l, in, i) && (best < 0 || goes_sooner(l, i, best)))
            best = i;
    }
    return best >= 0 ? best : any;
}

static void put(ks_load *load, ks_put what, int level, int item)
{
    load->steps[load->n_steps++] = (ks_step){what, level, item};
}

/* The level's pieces as the packer knows them, in the order of the plan's. */
static ks_shelf_order order_of(const ks_job *job, int kind, const ks_draft_level *level,
                               ks_arena *arena)
{
    ks_shelf_space space = ks_level_space(job, &job->kinds[kind], &level->at, arena);
    ks_shelf_spot *spots = KS_TAKE(arena, level->n_pins + level->layout.n_spots, ks_shelf_spot);
    int n = 0;
    for (int i = 0; i < level->n_pins; i++)
        spots[n++] = level->pins[i];
    for (int i = 0; i < level->layout.n_spots; i++)
        spots[n++] = level->layout.spots[i];
    return ks_shelf_order_find(&space, job->items, n, spots, arena);
}

static void fill_level(const ks_job *job, const ks_draft_load *draft, int level, ks_load *load)
{
    ks_arena scratch = {0};
    const ks_kiln *kiln = job->kinds[draft->kind].furniture->kiln;
    loading l = {job, &load->levels[level], kiln->loading == KS_FRONT_LOADER,
                 order_of(job, draft->kind, &draft->levels[level], &scratch)};
    bool *in = KS_TAKE(&scratch, l.order.n, bool);
    for (int done = 0; done < l.order.n; done++) {
        int i = next_piece(&l, in);
        in[i] = true;
        put(load, l.level->pieces[i].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, level, i);
    }
    ks_arena_finish(&scratch);
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

void ks_answer_steps(const ks_job *job, const ks_draft_load *draft, ks_load *load, ks_arena *arena)
{
    int most = 0;
    for (int l = 0; l < load->n_levels; l++)
        most += 1 + load->n_levels + load->levels[l].n_shelves + load->levels[l].n_pieces;
    load->steps = KS_TAKE(arena, most, ks_step);
    for (int l = 0; l < load->n_levels; l++) {
        put_posts(load, l);
        for (int s = 0; s < load->levels[l].n_shelves; s++)
            put(load, KS_PUT_SHELF, l, s);
        fill_level(job, draft, l, load);
    }
}
