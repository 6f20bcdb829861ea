#include "pack/shelf/shelf_rule.h"
#include "place/finish/tidy.h"

#include <string.h>

/* An owner's ware on few levels of a load: pieces that are alike but for their owner change places
 * between levels. Where anything stands stays as it is. */

enum { PASSES = 20 };

typedef struct {
    const ks_job *job;
    ks_draft_load *load;
    int *count; /* [owner * n_levels + level]: pieces of each owner, cone packs of nobody */
} gathering;

static int *count_of(const gathering *g, int item, int level)
{
    return &g->count[g->job->items[item].owner * g->load->n_levels + level];
}

static void count_owners(gathering *g)
{
    for (int l = 0; l < g->load->n_levels; l++) {
        const ks_draft_level *level = &g->load->levels[l];
        for (int i = 0; i < level->n_pins; i++)
            if (level->pins[i].item != g->job->cone)
                ++*count_of(g, level->pins[i].item, l);
        for (int i = 0; i < level->layout.n_spots; i++)
            if (level->layout.spots[i].item != g->job->cone)
                ++*count_of(g, level->layout.spots[i].item, l);
    }
}

/* On how many levels owners have ware, less by a trifle the more of it is on one. */
static double scatter(const gathering *g)
{
    double levels = 0, denser = 0;
    for (int i = 0; i < g->job->n_items * g->load->n_levels; i++) {
        levels += g->count[i] > 0;
        denser += (double)g->count[i] * g->count[i];
    }
    return levels - 1e-7 * denser;
}

/* One could stand for the other on any level. */
static bool may_change(const ks_job *job, int a, int b)
{
    const ks_shelf_item *x = &job->items[a], *y = &job->items[b];
    return a != job->cone && b != job->cone && x->tags == y->tags && x->conflicts == y->conflicts &&
           ks_shelf_alike(x, y);
}

/* How much better a piece's move from a level to another is for its owner: fewer levels first, then
 * more of his pieces on one of them. */
static void judge_move(const gathering *g, int item, int from, int to, int *fewer, int *denser)
{
    int left = *count_of(g, item, from), there = *count_of(g, item, to);
    *fewer += (left == 1) - (there == 0);
    *denser += there + 1 - left;
}

static bool changed_places(const gathering *g, int l, ks_shelf_spot *a, int m, ks_shelf_spot *b)
{
    int fewer = 0, denser = 0, item = a->item;
    if (g->job->items[a->item].owner == g->job->items[b->item].owner ||
        !may_change(g->job, a->item, b->item))
        return false;
    judge_move(g, a->item, l, m, &fewer, &denser);
    judge_move(g, b->item, m, l, &fewer, &denser);
    if (fewer < 0 || (fewer == 0 && denser <= 0))
        return false;
    --*count_of(g, a->item, l);
    ++*count_of(g, a->item, m);
    --*count_of(g, b->item, m);
    ++*count_of(g, b->item, l);
    a->item = b->item;
    b->item = item;
    return true;
}

static bool levels_changed(const gathering *g, int l, int m)
{
    ks_shelf_layout *low = &g->load->levels[l].layout, *high = &g->load->levels[m].layout;
    bool any = false;
    for (int i = 0; i < low->n_spots; i++)
        for (int k = 0; k < high->n_spots; k++)
            any = changed_places(g, l, &low->spots[i], m, &high->spots[k]) || any;
    return any;
}

/* Pieces of one likeness, and the places they have. */
typedef struct {
    int *left;  /* of each item: copies not dealt out yet */
    int *room;  /* of each level */
    int *dealt; /* [item * n_levels + level] */
} deal;

/* The largest handful for one level: of an item whose owner has ware there already, if there is. */
static bool handful(const gathering *g, const deal *d, int *item, int *level, int *n)
{
    bool known = false;
    *n = 0;
    for (int i = 0; i < g->job->n_items; i++)
        for (int l = 0; l < g->load->n_levels && d->left[i] > 0; l++) {
            int most = d->left[i] < d->room[l] ? d->left[i] : d->room[l];
            bool there = *count_of(g, i, l) > 0;
            if (most == 0 || there < known || (there == known && most <= *n))
                continue;
            known = there;
            *item = i;
            *level = l;
            *n = most;
        }
    return *n > 0;
}

/* Hands a level's places of the likeness to the items dealt to it. */
static void places_given(const gathering *g, const deal *d, int like, int level)
{
    ks_shelf_layout *layout = &g->load->levels[level].layout;
    int item = 0, used = 0;
    for (int i = 0; i < layout->n_spots; i++) {
        if (!may_change(g->job, like, layout->spots[i].item))
            continue;
        while (used == d->dealt[item * g->load->n_levels + level]) {
            item++;
            used = 0;
        }
        layout->spots[i].item = item;
        used++;
    }
}

/* All pieces of one likeness dealt out anew, handful by handful; kept where it is better. */
static bool likeness_dealt(gathering *g, int like, ks_arena *arena)
{
    int levels = g->load->n_levels, cells = g->job->n_items * levels;
    deal d = {KS_TAKE(arena, g->job->n_items, int), KS_TAKE(arena, levels, int),
              KS_TAKE(arena, cells, int)};
    int *before = KS_TAKE(arena, cells, int);
    memcpy(before, g->count, sizeof(int) * (size_t)cells);
    double was = scatter(g);
    for (int l = 0; l < levels; l++)
        for (int i = 0; i < g->load->levels[l].layout.n_spots; i++) {
            int item = g->load->levels[l].layout.spots[i].item;
            if (!may_change(g->job, like, item))
                continue;
            d.left[item]++;
            d.room[l]++;
            --*count_of(g, item, l);
        }
    for (int item, level, n; handful(g, &d, &item, &level, &n);) {
        d.left[item] -= n;
        d.room[level] -= n;
        d.dealt[item * levels + level] += n;
        *count_of(g, item, level) += n;
    }
    if (scatter(g) >= was - 1e-9) {
        memcpy(g->count, before, sizeof(int) * (size_t)cells);
        return false;
    }
    for (int l = 0; l < levels; l++)
        places_given(g, &d, like, l);
    return true;
}

/* Likenesses one after the other, each from its first item. */
static bool all_dealt(gathering *g, ks_arena *arena)
{
    bool any = false;
    for (int i = 0; i < g->job->order->n_pieces; i++) {
        bool first = true, shared = false;
        for (int k = 0; k < g->job->order->n_pieces && first; k++) {
            bool like = k != i && may_change(g->job, k, i);
            first = !(like && k < i);
            shared = shared || (like && g->job->items[k].owner != g->job->items[i].owner);
        }
        any = (first && shared && likeness_dealt(g, i, arena)) || any;
    }
    return any;
}

bool ks_tidy_owners(const ks_job *job, ks_draft *draft, int slot)
{
    ks_arena scratch = {0};
    ks_draft_load *load = &draft->loads[slot];
    gathering g = {job, load, KS_TAKE(&scratch, job->n_items * load->n_levels, int)};
    count_owners(&g);
    bool moved = all_dealt(&g, &scratch), more = true;
    for (int pass = 0; pass < PASSES && more; pass++) {
        more = false;
        for (int l = 0; l < load->n_levels; l++)
            for (int m = 0; m < l; m++)
                more = levels_changed(&g, l, m) || more;
        moved = moved || more;
    }
    for (int l = 0; l < load->n_levels && moved; l++)
        ks_shelf_owners_gather(job->items, load->levels[l].layout.n_spots,
                               load->levels[l].layout.spots);
    ks_arena_finish(&scratch);
    return moved;
}
