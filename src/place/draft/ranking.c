#include "place/draft/ranking.h"

#include "place/draft/level_wish.h"

#define STEPS_OF_WORTH 1000.0 /* a thousandth of a litre, of a cent, of a copy */

/* Where in the vector each rank begins. */
typedef struct {
    int over, must, due, late, owners, worth, loads, fills, levels, shelves, posts, n;
} layout;

static bool has_late(const ks_job *job)
{
    return job->n_due > 0 && job->n_slots > 0;
}

static layout layout_of(const ks_job *job)
{
    layout at = {.over = 0, .must = job->options.loads > 0};
    at.due = at.must + 1;
    at.late = at.due + job->n_due;
    at.owners = at.late + (has_late(job) ? job->n_slots : 0);
    at.worth = at.owners + job->fair_most;
    at.loads = at.worth + 1;
    at.fills = at.loads + 1;
    at.levels = at.fills + 1;
    at.shelves = at.levels + job->order->rules.fewest_levels;
    at.posts = at.shelves + 1;
    at.n = at.posts + 1;
    return at;
}

typedef struct {
    const ks_job *job;
    const bool *together;
    layout at;
    int64_t *ranks;
    double *due, *late; /* worth in time by due day, worth late by slot */
    double worth, fills;
    int *owned; /* of each piece: pieces of its owner, kept at the owner's first */
} counting;

static void count_dated(counting *c, int slot, int item)
{
    int rank = c->job->due_rank[item];
    double worth = c->job->worth[item];
    if (rank < 0)
        return;
    if (ks_job_in_time(c->job, slot, item))
        c->due[rank] += worth;
    else
        c->late[slot] += worth;
}

static void count_piece(counting *c, int slot, int item)
{
    const ks_job *job = c->job;
    if (item >= job->order->n_pieces || (job->set[item] >= 0 && !c->together[job->set[item]]))
        return;
    if (ks_job_is_fill(job, item)) {
        c->fills += job->worth[item];
        return;
    }
    c->ranks[c->at.must] += job->order->pieces[item].must_go;
    c->worth += job->worth[item];
    count_dated(c, slot, item);
    if (job->fair_most > 0 && ks_job_has_owner(job, item))
        c->ranks[c->at.owners + c->owned[job->items[item].owner]++]++;
}

static void count_spot(counting *c, int slot, ks_shelf_spot spot)
{
    for (int m = 0; m < ks_job_members(c->job, spot.item); m++)
        count_piece(c, slot, ks_job_member(c->job, spot.item, m));
}

static void count_load(counting *c, const ks_draft_load *load, int slot)
{
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < level->n_pins; i++)
            count_spot(c, slot, level->pins[i]);
        for (int i = 0; i < level->layout.n_spots; i++)
            if (ks_wish_holds(c->job, load, l, level->layout.spots[i].item))
                count_spot(c, slot, level->layout.spots[i]);
    }
    c->ranks[c->at.loads] -= load->n_levels > 0;
    if (c->job->order->rules.fewest_levels)
        c->ranks[c->at.levels] -= load->n_levels;
    c->ranks[c->at.shelves] -= ks_draft_shelves(c->job, load);
    c->ranks[c->at.posts] -= ks_draft_posts(c->job, load);
}

static int64_t in_steps(double worth)
{
    return (int64_t)(worth * STEPS_OF_WORTH + 0.5);
}

/* Late ware counts by the earliest loads: what each load and those before it hold. */
static void count_late(counting *c)
{
    double sum = 0;
    for (int i = 0; i < c->job->n_slots && has_late(c->job); i++) {
        sum += c->late[i];
        c->ranks[c->at.late + i] = in_steps(sum);
    }
}

/* By how many loads it exceeds what was asked for, below 0. */
static int loads_over(int asked, int fired)
{
    return fired > asked ? asked - fired : 0;
}

/* Ware of a set that is not together counts for nothing, nor what stands where it is not wanted. */
static int64_t *ranks_of(const ks_job *job, const ks_draft *draft, ks_arena *arena)
{
    layout at = layout_of(job);
    counting c = {.job = job,
                  .together = ks_draft_together(job, draft, arena),
                  .at = at,
                  .ranks = KS_TAKE(arena, at.n, int64_t),
                  .due = KS_TAKE(arena, job->n_due, double),
                  .late = KS_TAKE(arena, job->n_slots, double),
                  .owned = KS_TAKE(arena, job->n_items, int)};
    for (int s = 0; s < draft->n_loads; s++)
        count_load(&c, &draft->loads[s], s);
    for (int d = 0; d < job->n_due; d++)
        c.ranks[at.due + d] = in_steps(c.due[d]);
    count_late(&c);
    if (job->options.loads > 0)
        c.ranks[at.over] = loads_over(job->options.loads, ks_draft_fired(draft));
    c.ranks[at.worth] = in_steps(c.worth);
    c.ranks[at.fills] = in_steps(c.fills);
    return c.ranks;
}

static int compare(const ks_job *job, const ks_draft *a, const ks_draft *b, int n)
{
    ks_arena scratch = {0};
    const int64_t *x = ranks_of(job, a, &scratch), *y = ranks_of(job, b, &scratch);
    int i = 0;
    while (i < n && x[i] == y[i])
        i++;
    int ahead = i == n ? 0 : x[i] > y[i] ? 1 : -1;
    ks_arena_finish(&scratch);
    return ahead;
}

int ks_ranking_compare(const ks_job *job, const ks_draft *a, const ks_draft *b)
{
    return compare(job, a, b, layout_of(job).n);
}

int ks_ranking_compare_ware(const ks_job *job, const ks_draft *a, const ks_draft *b)
{
    return compare(job, a, b, layout_of(job).shelves);
}
