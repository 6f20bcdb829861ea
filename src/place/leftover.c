#include "place/leftover.h"

#include "place/offer.h"

#include <math.h>

typedef struct {
    const ks_job *job;
    const ks_draft *draft;
    ks_arena *arena;
    int good;
} question;

static double tallest_clear_mm(const question *q)
{
    double most = 0;
    for (int s = 0; s < q->job->n_slots; s++) {
        const ks_load_kind *kind = &q->job->kinds[q->job->slot_kind[s]];
        const ks_kiln *kiln = kind->furniture->kiln;
        double shelf = INFINITY;
        for (int i = 0; i < kiln->n_shelves; i++)
            shelf = kiln->shelves[i].thickness_mm < shelf ? kiln->shelves[i].thickness_mm : shelf;
        double clear = kiln->height_mm - kiln->floor_post_least_mm - shelf - kind->clear.lid;
        most = kind->suits[q->good] && clear > most ? clear : most;
    }
    return most;
}

static bool suits_any(const question *q, const char **why)
{
    for (int s = 0; s < q->job->n_slots; s++) {
        const ks_load_kind *kind = &q->job->kinds[q->job->slot_kind[s]];
        if (kind->suits[q->good])
            return true;
    }
    if (q->job->n_slots > 0)
        ks_piece_suits(q->job->order, &q->job->order->pieces[q->good],
                       &q->job->order->firings[q->job->kinds[q->job->slot_kind[0]].firing],
                       q->arena, why);
    return false;
}

static ks_left_out judged(const question *q)
{
    const ks_piece *piece = &q->job->order->pieces[q->good];
    ks_left_out out = {.piece = q->good, .id = piece->id, .count = q->draft->left[q->good]};
    const char *why = NULL;
    out.nearest = "no single change found";
    if (piece->locked_out) {
        out.count = piece->count;
        out.why = "held back";
        out.detail = "the order tells it to wait";
        out.nearest = "take \"wait\" off it";
    } else if (!suits_any(q, &why)) {
        out.why = "unsuited";
        out.detail = why ? why : "no load is fired so that it suits";
    } else if (tallest_clear_mm(q) < q->job->height_mm[q->good]) {
        out.why = "too tall";
        out.detail =
            ks_arena_print(q->arena, "%.1f mm taller than the tallest level that can be made",
                           q->job->height_mm[q->good] - tallest_clear_mm(q));
    } else {
        out.why = "displaced";
        out.detail = "by ware worth more";
    }
    return out;
}

void ks_leftover_list(const ks_job *job, const ks_draft *draft, ks_plan *plan, ks_arena *arena)
{
    plan->left_out = KS_TAKE(arena, job->order->n_pieces, ks_left_out);
    for (int i = 0; i < job->order->n_pieces; i++) {
        question q = {job, draft, arena, i};
        if (draft->left[i] > 0 || job->order->pieces[i].locked_out)
            plan->left_out[plan->n_left_out++] = judged(&q);
    }
}
