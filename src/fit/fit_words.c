/* The verdict in one sentence. */
#include "fit/fit_ask.h"

#include "studio/display.h"

/* A double's last bits do not make a piece too large. */
static const double too_little_mm = 1e-7;

static const char *told_spare(const ks_fit_question *q, double mm)
{
    return ks_show_spare(&q->order->display, mm, q->arena);
}

static const char *told_short(const ks_fit_question *q, double mm)
{
    return ks_show_lack(&q->order->display, mm, q->arena);
}

static const char *short_words(const ks_fit_question *q, const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    if (!way->possible)
        return "the kiln's stock makes no shelf for it";
    const char *around = told_short(q, -way->around_mm), *above = told_short(q, -way->above_mm);
    bool wide = -way->around_mm > too_little_mm, tall = -way->above_mm > too_little_mm;
    if (wide && tall)
        return ks_arena_print(q->arena, "%s too wide at the %s and %s too tall", around,
                              way->tightest, above);
    if (wide)
        return ks_arena_print(q->arena, "%s too wide at the %s, at its best turn and place", around,
                              way->tightest);
    if (tall)
        return ks_arena_print(q->arena, "%s too tall", above);
    return ks_arena_print(q->arena, "there is room inside, but the way in is %s too small",
                          told_short(q, -visit->passage_mm));
}

/* Of the three spares, the one that errors bring nearest to nothing. */
typedef struct {
    double spare_mm, worst_mm;
    const char *where, *again;
} tight_spot;

static tight_spot tightest_of(const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    tight_spot spots[] = {{way->around_mm, way->around_mm - visit->error_around_mm, "around",
                           way->tightest[0] == 's' ? "base" : "breadth"},
                          {way->above_mm, way->above_mm - visit->error_above_mm, "above", "height"},
                          {visit->passage_mm, visit->passage_mm - visit->error_passage_mm,
                           "on its way in", "breadth and height"}};
    tight_spot worst = spots[0];
    for (int i = 1; i < 3; i++)
        if (spots[i].worst_mm < worst.worst_mm)
            worst = spots[i];
    return worst;
}

const char *ks_fit_verdict(const ks_fit_question *q, const ks_fit_answer *out)
{
    const ks_fit_visit *visit = &out->visits[out->tightest];
    if (!out->fits) {
        for (int v = 0; visit->fits && v < out->n_visits; v++)
            visit = &out->visits[v];
        return ks_arena_print(q->arena, "does not fit, in the %s: %s", visit->name,
                              short_words(q, visit));
    }
    tight_spot spot = tightest_of(visit);
    if (out->surely)
        return ks_arena_print(
            q->arena, "fits, %s to spare around and %s above in the %s; at the worst %s %s",
            told_spare(q, visit->best.around_mm), told_spare(q, visit->best.above_mm), visit->name,
            told_spare(q, spot.worst_mm), spot.where);
    return ks_arena_print(
        q->arena, "fits, %s to spare %s in the %s, worst case %s short: measure its %s again",
        told_spare(q, spot.spare_mm), spot.where, visit->name, told_short(q, -spot.worst_mm),
        spot.again);
}
