#include "place/draft/level_wish.h"

#include <string.h>

/* What a plan in the making is worth, and what it leaves. */

/* A firing more than needed costs less than any piece is worth, but more than nothing. */
#define FIRING_COST 1e-6

typedef void on_piece(void *context, int level, int piece);

static void each_member(const ks_job *job, int level, ks_shelf_spot spot, on_piece *seen,
                        void *context)
{
    for (int m = 0; m < ks_job_members(job, spot.item); m++)
        seen(context, level, ks_job_member(job, spot.item, m));
}

static void each_piece(const ks_job *job, const ks_draft_load *load, on_piece *seen, void *context)
{
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < level->n_pins; i++)
            each_member(job, l, level->pins[i], seen, context);
        for (int i = 0; i < level->layout.n_spots; i++)
            each_member(job, l, level->layout.spots[i], seen, context);
    }
}

typedef struct {
    const ks_job *job;
    ks_draft *draft;
    bool *together; /* of each set: all of it is in one load */
    const ks_draft_load *load;
} count;

/* Ware of a set that is not together counts for nothing, nor does what stands where it is not
 * wanted. */
static void count_piece(void *context, int level, int piece)
{
    count *c = context;
    int set = c->job->set[piece];
    c->draft->left[piece]--;
    if ((set >= 0 && !c->together[set]) || !ks_wish_holds(c->job, c->load, level, piece))
        return;
    c->draft->worth += c->job->worth[piece];
    c->draft->score += c->job->worth[piece] * c->job->urgency[piece];
}

static int set_size_of(const ks_job *job, int set)
{
    int size = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        size += job->set[i] == set ? job->order->pieces[i].count : 0;
    return size;
}

typedef struct {
    const ks_job *job;
    int *in_load; /* copies of each set in the load looked at */
} set_count;

static void count_set(void *context, int level, int piece)
{
    set_count *c = context;
    if (c->job->set[piece] >= 0)
        c->in_load[c->job->set[piece]]++;
}

bool *ks_draft_together(const ks_job *job, const ks_draft *draft, ks_arena *arena)
{
    set_count c = {job, KS_TAKE(arena, job->n_sets, int)};
    bool *together = KS_TAKE(arena, job->n_sets, bool);
    for (int s = 0; s < draft->n_loads && job->n_sets > 0; s++) {
        memset(c.in_load, 0, sizeof(int) * (size_t)job->n_sets);
        each_piece(job, &draft->loads[s], count_set, &c);
        for (int k = 0; k < job->n_sets; k++)
            together[k] = together[k] || c.in_load[k] == set_size_of(job, k);
    }
    return together;
}

void ks_draft_count(const ks_job *job, ks_draft *draft)
{
    double all = 0;
    draft->score = draft->worth = 0;
    for (int i = 0; i < job->n_items; i++) {
        draft->left[i] =
            i < job->order->n_pieces && job->items[i].copies > 0 ? job->order->pieces[i].count : 0;
        all += job->worth[i] * draft->left[i];
    }
    ks_arena scratch = {0};
    count c = {job, draft, ks_draft_together(job, draft, &scratch), NULL};
    for (int s = 0; s < draft->n_loads; s++) {
        c.load = &draft->loads[s];
        each_piece(job, &draft->loads[s], count_piece, &c);
        draft->score -= draft->loads[s].n_levels > 0 ? FIRING_COST * all : 0;
    }
    ks_arena_finish(&scratch);
    if (job->cone >= 0)
        draft->left[job->cone] = 0;
}

typedef struct {
    const ks_job *job;
    const double *by;
    int slot;
    double late;
} lateness;

/* In no load could it be in time: so it is nowhere later than it must be. */
static bool is_late_anyway(const ks_job *job, int item)
{
    for (int s = 0; s < job->n_slots; s++)
        if (ks_job_in_time(job, s, item))
            return false;
    return true;
}

static void add_late(void *context, int level, int piece)
{
    lateness *l = context;
    if (!ks_job_in_time(l->job, l->slot, piece) && !is_late_anyway(l->job, piece))
        l->late += l->by[piece];
}

double ks_draft_late(const ks_job *job, const ks_draft *draft, const double *by)
{
    lateness l = {.job = job, .by = by};
    for (l.slot = 0; job->n_due > 0 && l.slot < draft->n_loads; l.slot++)
        each_piece(job, &draft->loads[l.slot], add_late, &l);
    return l.late;
}
