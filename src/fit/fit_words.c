/* The verdict in one sentence. */
#include "fit/fit_ask.h"

#include <math.h>

/* Spares are rounded down and shortages up, to what a tape can show. */
static double told_spare(double mm)
{
    return floor(mm * 10 + 1e-6) / 10;
}

static double told_short(double mm)
{
    return ceil(mm * 10 - 1e-6) / 10;
}

static const char *short_words(const ks_fit_question *q, const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    if (!way->possible)
        return "the kiln's stock makes no shelf for it";
    double around = told_short(-way->around_mm), above = told_short(-way->above_mm);
    if (around > 0 && above > 0)
        return ks_arena_print(q->arena, "%.1f mm too wide at the %s and %.1f mm too tall", around,
                              way->tightest, above);
    if (around > 0)
        return ks_arena_print(q->arena, "%.1f mm too wide at the %s, at its best turn and place",
                              around, way->tightest);
    if (above > 0)
        return ks_arena_print(q->arena, "%.1f mm too tall", above);
    return ks_arena_print(q->arena, "there is room inside, but the way in is %.1f mm too small",
                          told_short(-visit->passage_mm));
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
            q->arena,
            "fits, %.1f mm to spare around and %.1f mm above in the %s; at the worst %.1f mm %s",
            told_spare(visit->best.around_mm), told_spare(visit->best.above_mm), visit->name,
            told_spare(spot.worst_mm), spot.where);
    return ks_arena_print(
        q->arena,
        "fits, %.1f mm to spare %s in the %s, worst case %.1f mm short: measure its %s again",
        told_spare(spot.spare_mm), spot.where, visit->name, told_short(-spot.worst_mm), spot.again);
}
