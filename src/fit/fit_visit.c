/* What is told of each firing. */
#include "fit/fit_ask.h"
#include "fit/fit_piece.h"
#include "fit/fit_way.h"

#include <math.h>

#define FINE_MM 0.1
#define COVERED_MM                                                                                 \
    0.5 /* among posts there are many stands alike: they are not told apart as finely */

/* What a tape may have got wrong about a size: told of the piece, once it was measured again. */
static double tape_error(const ks_fit_question *q, double size_mm)
{
    if (q->piece->tape_mm > 0)
        return q->piece->tape_mm;
    return fmax(q->options->tape_mm, fmax(q->options->tape_part, q->piece->tape_part) * size_mm);
}

/* What the body's spread of shrinkage may add to a size that is still to shrink. */
static double shrinkage_error(const ks_fit_question *q, double factor, double size_mm)
{
    double spread = ks_clay_or_usual(q->order->clays, q->piece->clay)->shrinkage_spread;
    return spread * (1 - factor) / factor * size_mm;
}

static double size_error(const ks_fit_question *q, double factor, double size_mm)
{
    return tape_error(q, size_mm) + shrinkage_error(q, factor, size_mm);
}

/* Of a breadth each side has half the error. */
static void find_errors(const ks_fit_question *q, double factor, double across_mm,
                        ks_fit_visit *visit)
{
    visit->error_around_mm = size_error(q, factor, across_mm) / 2;
    visit->error_above_mm = size_error(q, factor, visit->height_mm);
    visit->error_breadth_mm = size_error(q, factor, visit->breadth_mm);
    double wide = visit->error_breadth_mm / 2;
    bool door = q->kiln->loading == KS_FRONT_LOADER;
    visit->error_passage_mm = door ? fmax(wide, visit->error_above_mm) : visit->error_around_mm;
}

static ks_status visit(const ks_fit_question *q, const ks_fit_entry *entry, ks_fit_visit *visit)
{
    const ks_piece *piece = &entry->piece;
    *visit = (ks_fit_visit){.name = entry->name, .stage = entry->stage};
    ks_piece *kept = KS_TAKE(q->arena, 1, ks_piece);
    *kept = *piece;
    visit->piece = kept;
    visit->breadth_mm = ks_piece_breadth_mm(piece, q->arena);
    visit->height_mm = piece->height_mm;
    ks_outline hull = ks_piece_hull(piece, q->arena);
    find_errors(q, entry->factor, 2 * ks_outline_around(&hull).r, visit);
    visit->passage_mm = ks_fit_passage_mm(q, piece, q->kiln);
    visit->passes = visit->passage_mm >= 0;
    ks_fit_case asked;
    ks_status status =
        ks_fit_case_of(q->order, piece, 1, q->kiln, q->known, q->arena, &asked, q->err);
    if (status)
        return status;
    visit->best = ks_fit_best_way(&asked, FINE_MM, q->arena);
    visit->fits = ks_fit_spare_mm(visit) >= 0;
    if (!visit->fits)
        return KS_OK;
    visit->under_shelf = ks_fit_covered_way(&asked, visit, COVERED_MM, q->arena);
    visit->beside_mm = ks_fit_beside_mm(&asked, &visit->best, q->arena);
    return KS_OK;
}

double ks_fit_spare_mm(const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    return fmin(way->possible ? fmin(way->around_mm, way->above_mm) : -INFINITY, visit->passage_mm);
}

static bool surely_fits(const ks_fit_visit *visit)
{
    return visit->best.possible && visit->best.around_mm >= visit->error_around_mm &&
           visit->best.above_mm >= visit->error_above_mm &&
           visit->passage_mm >= visit->error_passage_mm;
}

/* Spare with all errors against it: the firing where that is least is the tightest. */
static double worst_spare(const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    double stand =
        fmin(way->around_mm - visit->error_around_mm, way->above_mm - visit->error_above_mm);
    return fmin(way->possible ? stand : -INFINITY, visit->passage_mm - visit->error_passage_mm);
}

ks_status ks_fit_visits(const ks_fit_question *q, ks_fit_answer *out)
{
    ks_fit_entry entries[KS_FIT_ENTRIES];
    out->n_visits = ks_fit_entries(q, q->piece, entries);
    out->visits = KS_TAKE(q->arena, out->n_visits, ks_fit_visit);
    out->goes_in = out->surely = true;
    for (int v = 0; v < out->n_visits; v++) {
        ks_status status = visit(q, &entries[v], &out->visits[v]);
        if (status)
            return status;
        out->goes_in = out->goes_in && out->visits[v].fits;
        out->surely = out->surely && surely_fits(&out->visits[v]);
        if (worst_spare(&out->visits[v]) < worst_spare(&out->visits[out->tightest]))
            out->tightest = v;
    }
    return KS_OK;
}
