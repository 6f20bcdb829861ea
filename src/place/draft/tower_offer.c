#include "place/draft/tower_offer.h"

#include "place/bound/relaxation.h"

#include <math.h>
#include <stdlib.h>

enum { TOWERS_MOST = 64, FEWEST_OF_A_BASE = 6 };

typedef struct {
    int item, base;
    double worth, merit;
    bool stands; /* it is in the layout that the level starts from */
} tower;

bool ks_has_pin_conflict(const ks_fill *fill, int item)
{
    for (int p = 0; p < fill->n_pins; p++)
        if (fill->job->items[item].conflicts & fill->job->items[fill->pins[p].item].tags)
            return true;
    return false;
}

static int by_merit(const void *x, const void *y)
{
    const tower *a = x, *b = y;
    if (a->stands != b->stands)
        return a->stands ? -1 : 1;
    if (a->merit != b->merit)
        return a->merit > b->merit ? -1 : 1;
    return a->item - b->item;
}

static int count_in(const ks_job *job, int item, int piece)
{
    int n = 0;
    for (int m = 0; m < ks_job_members(job, item); m++)
        n += ks_job_member(job, item, m) == piece;
    return n;
}

/* Whether its members are there; what has to be in is not hidden in towers. */
static bool can_be_made(const ks_fill *fill, int item)
{
    const ks_job *job = fill->job;
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m);
        if (count_in(job, item, piece) > fill->copies[piece] ||
            (fill->must && fill->must[piece] > 0))
            return false;
    }
    return true;
}

static double worth_of(const ks_fill *fill, int item)
{
    double sum = 0;
    for (int m = 0; m < ks_job_members(fill->job, item); m++)
        sum += fill->worth[ks_job_member(fill->job, item, m)];
    return sum;
}

static bool is_in_warm(const ks_fill *fill, int item)
{
    for (int i = 0; fill->warm && i < fill->warm->n_spots; i++)
        if (fill->warm->spots[i].item == item)
            return true;
    return false;
}

/* All that could stand there, the best for the area that it takes first. */
static int list_towers(const ks_fill *fill, double clear_mm, tower *all)
{
    const ks_job *job = fill->job;
    int n = 0;
    for (int i = job->first_tower; i < job->n_items; i++) {
        double worth = worth_of(fill, i);
        if (fill->copies[i] > 0 || job->height_mm[i] > clear_mm || worth <= 0 ||
            !fill->kind->suits[i] || !can_be_made(fill, i) || ks_has_pin_conflict(fill, i))
            continue;
        all[n++] = (tower){i, ks_job_member(job, i, 0), worth,
                           worth / ks_item_area_mm2(job, fill->kind, i), is_in_warm(fill, i)};
    }
    qsort(all, (size_t)n, sizeof *all, by_merit);
    return n;
}

static int count_bases(const ks_job *job, const tower *all, int n, int *of_base)
{
    int bases = 0;
    for (int t = 0; t < n; t++)
        bases += of_base[all[t].base]++ == 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        of_base[i] = 0;
    return bases;
}

/* The best of each base first, so that no kind of ware goes without. */
static int choose(const ks_job *job, tower *all, int n, ks_arena *arena)
{
    int kept = 0, *of_base = KS_TAKE(arena, job->order->n_pieces, int);
    int each = count_bases(job, all, n, of_base);
    each =
        each > 0 && TOWERS_MOST / each > FEWEST_OF_A_BASE ? TOWERS_MOST / each : FEWEST_OF_A_BASE;
    for (int t = 0; t < n && kept < TOWERS_MOST; t++)
        if (all[t].stands || of_base[all[t].base]++ < each)
            all[kept++] = all[t];
    return kept;
}

static int copies_of(const ks_fill *fill, int item)
{
    int most = 1 << 20;
    for (int m = 0; m < ks_job_members(fill->job, item); m++) {
        int piece = ks_job_member(fill->job, item, m);
        int made = fill->copies[piece] / count_in(fill->job, item, piece);
        most = made < most ? made : most;
    }
    return most;
}

/* A piece by itself draws one of its own stock. */
static void draw(const ks_fill *fill, int item, ks_shelf_item *to, ks_arena *arena)
{
    const ks_job *job = fill->job;
    ks_shelf_draw *draws = KS_TAKE(arena, ks_job_members(job, item), ks_shelf_draw);
    int n = 0;
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m), d = 0;
        while (d < n && draws[d].stock != piece)
            d++;
        if (d == n)
            draws[n++] = (ks_shelf_draw){piece, 0, fill->copies[piece]};
        draws[d].n++;
    }
    to->n_draws = n;
    to->draws = draws;
}

void ks_offer_towers(const ks_fill *fill, double clear_mm, ks_level_offer *offer, ks_arena *arena)
{
    const ks_job *job = fill->job;
    tower *all = KS_TAKE(arena, job->n_items - job->first_tower, tower);
    int n = choose(job, all, list_towers(fill, clear_mm, all), arena), singles = offer->n;
    bool *shared = KS_TAKE(arena, job->n_items, bool);
    for (int t = 0; t < n; t++) {
        ks_shelf_item *item = &offer->items[offer->n];
        *item = job->lean[all[t].item];
        item->worth = all[t].worth;
        item->copies = copies_of(fill, all[t].item);
        item->must = 0;
        draw(fill, all[t].item, item, arena);
        for (int d = 0; d < item->n_draws; d++)
            shared[item->draws[d].stock] = true;
        offer->row[all[t].item] = offer->n;
        offer->item[offer->n++] = all[t].item;
    }
    for (int r = 0; r < singles; r++)
        if (shared[offer->item[r]])
            draw(fill, offer->item[r], &offer->items[r], arena);
}
