#include "place/answer.h"

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

static bool is_behind(const ks_placed *back, const ks_placed *front)
{
    ks_box b = {1e300, 1e300, -1e300, -1e300}, f = b;
    for (int i = 0; i < back->n_parts; i++) {
        ks_box box = ks_outline_box(&back->parts[i].outline);
        b.x0 = box.x0 < b.x0 ? box.x0 : b.x0;
        b.x1 = box.x1 > b.x1 ? box.x1 : b.x1;
    }
    for (int i = 0; i < front->n_parts; i++) {
        ks_box box = ks_outline_box(&front->parts[i].outline);
        f.x0 = box.x0 < f.x0 ? box.x0 : f.x0;
        f.x1 = box.x1 > f.x1 ? box.x1 : f.x1;
    }
    return b.x0 < f.x1 && f.x0 < b.x1 && back->stand.y > front->stand.y;
}

static double mass_of(const loading *l, int piece)
{
    int good = l->level->pieces[piece].piece;
    return good < 0 ? 0 : l->job->items[good].mass_kg;
}

/* What must come before is law; what is left is taste: from the back in a front loader, the heavy
 * first in a top loader, cones last. */
static bool goes_sooner(const loading *l, int a, int b)
{
    const ks_placed *x = &l->level->pieces[a], *y = &l->level->pieces[b];
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
            l->after[i * n + k] =
                i != k && (overhangs(x, y) ||
                           (front && is_behind(y, x) && !overhangs(y, x)));
        }
}

static int next_piece(const loading *l, const bool *in)
{
    int n = l->level->n_pieces, best = -1, fallback = -1;
    for (int i = 0; i < n; i++) {
        if (in[i])
            continue;
        bool free = true;
        for (int k = 0; k < n && free; k++)
            free = in[k] || !l->after[i * n + k];
        if (free && (best < 0 || goes_sooner(l, i, best)))
            best = i;
        if (fallback < 0 || goes_sooner(l, i, fallback))
            fallback = i;
    }
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
        int i = next_piece(&l, in);
        in[i] = true;
        put(load, l.level->pieces[i].role == KS_CONES ? KS_PUT_CONES : KS_PUT_PIECE, level, i);
    }
}

/* The level that posts under this one stand over: the highest of those below whose shelves they
 * stand on. */
static int level_below(const ks_load *load, int level)
{
    const ks_level *up = &load->levels[level];
    int below = -1;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_level *low = &load->levels[l];
        bool meets = false;
        for (int i = 0; i < low->n_shelves && !meets; i++)
            for (int k = 0; k < up->n_shelves && !meets; k++)
                meets = ks_outline_distance(&low->shelves[i].outline, &up->shelves[k].outline) < 0;
        if (meets && low->z_mm < up->z_mm && (below < 0 || low->z_mm > load->levels[below].z_mm))
            below = l;
    }
    return below;
}

void ks_answer_steps(const ks_job *job, ks_load *load, ks_arena *arena)
{
    int most = 0;
    for (int l = 0; l < load->n_levels; l++)
        most += 1 + load->levels[l].n_shelves + load->levels[l].n_pieces;
    load->steps = KS_TAKE(arena, most, ks_step);
    for (int l = 0; l < load->n_levels; l++) {
        put(load, KS_PUT_POSTS, level_below(load, l), -1);
        for (int s = 0; s < load->levels[l].n_shelves; s++)
            put(load, KS_PUT_SHELF, l, s);
        fill_level(job, load, l, arena);
    }
}
