#include "place/job/share_job.h"

#include <string.h>

#define LAST_CHANCE 20.0 /* times as urgent */

#define COPY(arena, from, n, type) ((type *)copied((arena), (from), (n), sizeof(type)))

static void *copied(ks_arena *arena, const void *from, int n, size_t size)
{
    void *to = ks_arena_take(arena, (size_t)n, size);
    if (n > 0)
        memcpy(to, from, (size_t)n * size);
    return to;
}

static void take_slot(ks_share_job *share, const ks_job *job, int slot)
{
    ks_job *own = &share->job;
    own->n_kinds = own->n_slots = share->order.n_slots = 1;
    own->kinds = COPY(own->arena, &job->kinds[job->slot_kind[slot]], 1, ks_load_kind);
    own->slot_kind = KS_TAKE(own->arena, 1, int);
    own->times = COPY(own->arena, &job->times[slot], 1, ks_load_times);
    share->order.slots = COPY(own->arena, &job->order->slots[slot], 1, ks_slot);
}

static bool is_in_time_later(const ks_job *job, int slot, int item)
{
    for (int s = slot + 1; s < job->n_slots; s++)
        if (ks_job_in_time(job, s, item) && job->kinds[job->slot_kind[s]].suits[item])
            return true;
    return false;
}

/* What is due and has its last chance here, or is late by now, is not left out for any other; nor
 * is a set, which has been given this load as a whole. */
static double urgency_in(const ks_job *job, int slot, int item)
{
    double urgency = job->urgency[item] * (job->set[item] >= 0 ? LAST_CHANCE : 1);
    if (job->due_rank[item] < 0)
        return urgency;
    if (!is_in_time_later(job, slot, item))
        return LAST_CHANCE * urgency;
    return ks_job_in_time(job, slot, item) ? urgency : urgency > 0;
}

static void offer(ks_share_job *share, const ks_job *whole, int slot, const int *copies)
{
    ks_job *job = &share->job;
    for (int i = 0; i < share->order.n_pieces; i++) {
        ks_piece *piece = &share->order.pieces[i];
        ks_shelf_item *item = &job->items[i];
        piece->keep.load = piece->keep.load == slot ? 0 : job->n_slots;
        piece->count = copies[i];
        job->urgency[i] = urgency_in(whole, slot, i);
        item->worth = job->lean[i].worth = job->worth[i] * job->urgency[i];
        item->copies = job->lean[i].copies = copies[i];
    }
}

void ks_share_job_init(ks_share_job *share, const ks_job *job, int slot, const int *copies,
                       ks_arena *arena)
{
    int n = job->n_items;
    *share = (ks_share_job){.job = *job, .order = *job->order};
    share->order.pieces = COPY(arena, job->order->pieces, job->order->n_pieces, ks_piece);
    share->job.order = &share->order;
    share->job.arena = arena;
    share->job.is_share = true;
    share->job.items = COPY(arena, job->items, n, ks_shelf_item);
    share->job.lean = COPY(arena, job->lean, n, ks_shelf_item);
    share->job.worth = COPY(arena, job->worth, n, double);
    share->job.urgency = COPY(arena, job->urgency, n, double);
    share->job.options.from = NULL;
    share->job.options.keep_shelves = false;
    share->job.options.export_to = NULL;
    take_slot(share, job, slot);
    offer(share, job, slot, copies);
}
