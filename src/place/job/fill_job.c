#include "place/job/fill_job.h"

#include <math.h>
#include <string.h>

/* What a copy of ware that fills counts next to counted ware of the same worth: so little that the
 * search seldom tries to trade one for the other. Plans are compared without it first. */
#define FILL_WEIGHT (1.0 / 60)

enum { MOST_COPIES = 10000 };

bool ks_job_fills(const ks_job *job)
{
    for (int i = 0; i < job->order->n_pieces; i++)
        if (job->order->pieces[i].fill && !job->order->pieces[i].locked_out)
            return true;
    return false;
}

static double chambers_mm3(const ks_order *order)
{
    double sum = 0;
    for (int s = 0; s < order->n_slots; s++) {
        const ks_kiln *kiln = &order->kilns[order->slots[s].kiln];
        for (int i = 0; i < kiln->n_parts; i++)
            sum += ks_outline_area(&kiln->parts[i].outline) *
                   (kiln->parts[i].to_mm - kiln->parts[i].from_mm);
    }
    return sum;
}

/* No more could be in the chambers, were they liquid: each fills at least its largest part. */
static int most_copies(const ks_piece *piece, double room_mm3)
{
    double least_mm3 = 0;
    for (int i = 0; i < piece->n_parts; i++)
        least_mm3 = fmax(least_mm3, ks_outline_area(&piece->parts[i].outline) *
                                        (piece->parts[i].to_mm - piece->parts[i].from_mm));
    return least_mm3 * MOST_COPIES <= room_mm3 ? MOST_COPIES : (int)(room_mm3 / least_mm3);
}

/* Loads that are kept for a place keep it under the load's new number; `n_slots` stands for one
 * that is not among them. */
static int slot_now(const ks_fill_job *fill, int slot)
{
    int now = 0;
    while (now < fill->job.n_slots && fill->slot[now] != slot)
        now++;
    return now;
}

static void take_slots(ks_fill_job *fill, const ks_job *job, const bool *fired, ks_arena *arena)
{
    ks_slot *slots = KS_TAKE(arena, job->n_slots, ks_slot);
    fill->slot = KS_TAKE(arena, job->n_slots, int);
    fill->job.slot_kind = KS_TAKE(arena, job->n_slots, int);
    fill->job.times = KS_TAKE(arena, job->n_slots, ks_load_times);
    fill->job.n_slots = 0;
    for (int s = 0; s < job->n_slots; s++) {
        if (!fired[s] && !fill->alone)
            continue;
        int now = fill->job.n_slots++;
        fill->slot[now] = s;
        fill->job.slot_kind[now] = job->slot_kind[s];
        fill->job.times[now] = job->times[s];
        slots[now] = job->order->slots[s];
    }
    fill->order.slots = slots;
    fill->order.n_slots = fill->job.n_slots;
}

static void offer_fills(ks_fill_job *fill)
{
    ks_job *job = &fill->job;
    double room_mm3 = chambers_mm3(&fill->order);
    ks_piece *pieces = fill->order.pieces;
    for (int i = 0; i < fill->order.n_pieces; i++) {
        pieces[i].keep.load = slot_now(fill, pieces[i].keep.load);
        if (!pieces[i].fill)
            continue;
        pieces[i].count = most_copies(&pieces[i], room_mm3);
        job->worth[i] = pieces[i].worth * FILL_WEIGHT;
        job->urgency[i] = 1;
        job->items[i].worth = job->lean[i].worth = job->worth[i];
        job->items[i].copies = job->lean[i].copies = pieces[i].locked_out ? 0 : pieces[i].count;
    }
}

#define COPY(arena, from, n, type) ((type *)copied((arena), (from), (n), sizeof(type)))

static void *copied(ks_arena *arena, const void *from, int n, size_t size)
{
    void *to = ks_arena_take(arena, (size_t)n, size);
    if (n > 0)
        memcpy(to, from, (size_t)n * size);
    return to;
}

static bool nothing_counts(const ks_job *job)
{
    for (int i = 0; i < job->order->n_pieces; i++)
        if (job->items[i].copies > 0)
            return false;
    return true;
}

void ks_fill_job_init(ks_fill_job *fill, const ks_job *job, const bool *fired, ks_arena *arena)
{
    int n = job->n_items;
    *fill = (ks_fill_job){.job = *job, .order = *job->order, .alone = nothing_counts(job)};
    fill->order.pieces = COPY(arena, job->order->pieces, job->order->n_pieces, ks_piece);
    fill->job.order = &fill->order;
    fill->job.arena = arena;
    fill->job.items = COPY(arena, job->items, n, ks_shelf_item);
    fill->job.lean = COPY(arena, job->lean, n, ks_shelf_item);
    fill->job.worth = COPY(arena, job->worth, n, double);
    fill->job.urgency = COPY(arena, job->urgency, n, double);
    take_slots(fill, job, fired, arena);
    offer_fills(fill);
}
