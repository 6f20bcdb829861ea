#include "kilnstow/fit.h"

#include "place/fit_care.h"
#include "place/fit_piece.h"
#include "place/fit_way.h"

#include <math.h>
#include <string.h>

#define FINE_MM 0.1

ks_fit_options ks_fit_default(void)
{
    return (ks_fit_options){.tape_mm = 3, .tape_part = 0.01, .board_mm = 18, .scale = true};
}

typedef struct {
    const ks_order *order;
    const ks_piece *piece;
    const ks_kiln *kiln;
    const ks_fit_options *options;
    ks_arena *arena;
    ks_error *err;
} question;

/* What a tape may have got wrong about a size. */
static double tape_error(const question *q, double size_mm)
{
    return fmax(q->options->tape_mm, q->options->tape_part * size_mm);
}

static double spare(const ks_fit_way *way)
{
    return way->possible ? fmin(way->around_mm, way->above_mm) : -INFINITY;
}

/* Past the doorway, carried on a board; a top loader's rim is passed if every part of the chamber
 * above lets it by. */
static double passage_spare(const question *q, const ks_piece *piece)
{
    const ks_kiln *kiln = q->kiln;
    if (kiln->loading == KS_FRONT_LOADER) {
        if (!(kiln->opening_width_mm > 0))
            return INFINITY;
        double wide = kiln->opening_width_mm - ks_piece_breadth_mm(piece, q->arena);
        double high = kiln->opening_height_mm - piece->height_mm - q->options->board_mm;
        return fmin(wide / 2, high);
    }
    ks_outline hull = ks_piece_hull(piece, q->arena);
    double least = INFINITY;
    for (int p = 1; p < kiln->n_parts; p++)
        least =
            fmin(least, ks_outline_around(&kiln->parts[p].outline).r - ks_outline_around(&hull).r);
    return least;
}

static ks_status way_found(const question *q, const ks_piece *piece, ks_fit_way *way)
{
    ks_fit_case asked;
    ks_status status = ks_fit_case_of(q->order, piece, 1, q->kiln, q->arena, &asked, q->err);
    if (!status)
        *way = ks_fit_best_way(&asked, FINE_MM, q->arena);
    return status;
}

/* Length of the piece's clay after a stage, as a factor on what it is now. */
static double factor_to(const question *q, ks_stage stage)
{
    const ks_piece *piece = q->piece;
    if (piece->clay < 0 || stage <= piece->stage)
        return 1;
    return 1 - ks_clay_shrinkage(&q->order->clays[piece->clay], piece->stage, stage,
                                 q->order->firings[0].cone);
}

/* What the body's spread of shrinkage may add to a size that is still to shrink. */
static double shrinkage_error(const question *q, double factor, double size_mm)
{
    double spread = q->piece->clay >= 0 ? q->order->clays[q->piece->clay].shrinkage_spread : 0;
    return spread * (1 - factor) * size_mm;
}

static ks_status visited(const question *q, const ks_piece *piece, double factor,
                         ks_fit_visit *visit)
{
    visit->breadth_mm = ks_piece_breadth_mm(piece, q->arena);
    visit->height_mm = piece->height_mm;
    ks_outline hull = ks_piece_hull(piece, q->arena);
    double across = 2 * ks_outline_around(&hull).r;
    visit->error_around_mm = tape_error(q, across) / 2 + shrinkage_error(q, factor, across) / 2;
    visit->error_above_mm =
        tape_error(q, piece->height_mm) + shrinkage_error(q, factor, piece->height_mm);
    visit->passage_mm = passage_spare(q, piece);
    visit->passes = visit->passage_mm >= 0;
    ks_status status = way_found(q, piece, &visit->best);
    visit->fits = spare(&visit->best) >= 0 && visit->passes;
    return status;
}

/* Raw ware is bisqued first, bare and touching nothing; then it is glazed and stands on its setter.
 */
static ks_status visits_made(const question *q, ks_fit_answer *out)
{
    bool raw = q->piece->stage < KS_BISQUE;
    out->visits = KS_TAKE(q->arena, 2, ks_fit_visit);
    if (raw) {
        ks_piece bare = ks_piece_bare(q->piece, q->arena);
        bare.glazed = false;
        ks_fit_visit *visit = &out->visits[out->n_visits++];
        *visit = (ks_fit_visit){.name = "bisque firing, bare", .stage = KS_DRY};
        ks_piece dry = ks_piece_scaled(&bare, factor_to(q, KS_DRY), q->arena);
        ks_status status = visited(q, &dry, factor_to(q, KS_DRY), visit);
        if (status)
            return status;
    }
    double factor = raw ? factor_to(q, KS_BISQUE) : 1;
    ks_piece then = ks_piece_scaled(q->piece, factor, q->arena);
    ks_fit_visit *visit = &out->visits[out->n_visits++];
    *visit = (ks_fit_visit){.name = raw || q->piece->glazed ? "glaze firing" : "firing",
                            .stage = raw ? KS_BISQUE : q->piece->stage};
    then.glazed = q->piece->glazed || (raw && q->piece->n_glazes > 0);
    return visited(q, &then, factor, visit);
}

static double visit_spare(const ks_fit_visit *visit)
{
    return fmin(spare(&visit->best), visit->passage_mm);
}

static bool surely_fits(const ks_fit_visit *visit)
{
    return visit->best.possible && visit->best.around_mm >= visit->error_around_mm &&
           visit->best.above_mm >= visit->error_above_mm &&
           visit->passage_mm >= fmin(visit->error_around_mm, visit->error_above_mm);
}

static void visits_judged(ks_fit_answer *out)
{
    out->fits = out->surely = true;
    for (int v = 0; v < out->n_visits; v++) {
        out->fits = out->fits && out->visits[v].fits;
        out->surely = out->surely && surely_fits(&out->visits[v]);
        if (visit_spare(&out->visits[v]) < visit_spare(&out->visits[out->tightest]))
            out->tightest = v;
    }
}

static bool fits_at(const question *q, const ks_piece *piece, double scale)
{
    ks_piece scaled = ks_piece_scaled(piece, scale, q->arena);
    ks_fit_case asked;
    return passage_spare(q, &scaled) >= 0 &&
           ks_fit_case_of(q->order, &scaled, 1, q->kiln, q->arena, &asked, q->err) == KS_OK &&
           ks_fit_somehow(&asked, q->arena);
}

/* Bisected: what fits at one scale fits at every smaller one, but for beds and clearances, which
 * stay. */
static double largest_scale(const question *q, const ks_fit_answer *out)
{
    bool raw = q->piece->stage < KS_BISQUE;
    ks_piece tight = out->tightest == 0 && raw ? ks_piece_bare(q->piece, q->arena) : *q->piece;
    double factor = factor_to(q, out->visits[out->tightest].stage);
    double low = 0.05, high = 1;
    while (high < 4 && fits_at(q, &tight, high * factor))
        low = high, high *= 1.5;
    if (low == 0.05 && !fits_at(q, &tight, low * factor))
        return 0;
    while (high - low > 0.001) {
        double middle = (low + high) / 2;
        if (fits_at(q, &tight, middle * factor))
            low = middle;
        else
            high = middle;
    }
    return low;
}

/* The wet size from which the largest that fits comes. */
static void built_backwards(const question *q, ks_fit_answer *out)
{
    if (q->piece->clay < 0 || !(out->largest_scale > 0))
        return;
    const ks_clay *clay = &q->order->clays[q->piece->clay];
    if (clay->n_bar == 0 || !(clay->bar[0].length > 0))
        return;
    double wet = clay->bar[0].length, now = wet;
    for (int i = 0; i < clay->n_bar; i++)
        if (strcmp(clay->bar[i].stage, ks_stage_name(q->piece->stage)) == 0 ||
            (q->piece->stage == KS_GLAZED && strcmp(clay->bar[i].stage, "bisque") == 0))
            now = clay->bar[i].length;
    ks_piece bare = ks_piece_bare(q->piece, q->arena);
    double factor = out->largest_scale * wet / now;
    out->largest_wet_breadth_mm = factor * ks_piece_breadth_mm(&bare, q->arena);
    out->largest_wet_height_mm = factor * bare.height_mm;
}

static const char *short_words(const question *q, const ks_fit_visit *visit)
{
    const ks_fit_way *way = &visit->best;
    if (!way->possible)
        return "the kiln's stock makes no shelf for it";
    if (!visit->passes && visit_spare(visit) == visit->passage_mm)
        return ks_arena_print(q->arena, "the way in is %.0f mm too small",
                              ceil(-visit->passage_mm));
    if (way->around_mm < 0 && way->above_mm < 0)
        return ks_arena_print(q->arena, "%.1f mm too wide at the %s and %.1f mm too tall",
                              -way->around_mm, way->tightest, -way->above_mm);
    if (way->around_mm < 0)
        return ks_arena_print(q->arena, "%.1f mm too wide on the tightest side, the %s",
                              -way->around_mm, way->tightest);
    return ks_arena_print(q->arena, "%.1f mm too tall", -way->above_mm);
}

static const char *verdict_of(const question *q, const ks_fit_answer *out)
{
    const ks_fit_visit *visit = &out->visits[out->tightest];
    const ks_fit_way *way = &visit->best;
    if (!out->fits)
        return ks_arena_print(q->arena, "no, in the %s: %s", visit->name, short_words(q, visit));
    const char *room = ks_arena_print(q->arena, "%.1f mm to spare around, %.1f mm above, in the %s",
                                      way->around_mm, way->above_mm, visit->name);
    if (out->surely)
        return ks_arena_print(q->arena, "yes, %s", room);
    double around = way->around_mm - visit->error_around_mm;
    double above = way->above_mm - visit->error_above_mm;
    return ks_arena_print(q->arena,
                          "yes as measured, %s; at the worst %.1f mm short: measure its %s again",
                          room, -fmin(around, above), around < above ? "breadth" : "height");
}

/* Every firing of it, in another kiln or changed; for finding a yes, so it is not measured. */
static bool fits_in(const question *q, const ks_piece *piece, const ks_kiln *kiln)
{
    question other = *q;
    other.kiln = kiln;
    other.piece = piece;
    if (piece->stage >= KS_BISQUE)
        return fits_at(&other, piece, 1);
    ks_piece bare = ks_piece_bare(piece, q->arena);
    return fits_at(&other, &bare, factor_to(&other, KS_DRY)) &&
           fits_at(&other, piece, factor_to(&other, KS_BISQUE));
}

static double kiln_volume(const ks_kiln *kiln)
{
    return ks_outline_area(&kiln->parts[0].outline) * kiln->height_mm;
}

static const ks_kiln *smallest_other(const question *q)
{
    const ks_kiln *best = NULL;
    for (int k = 0; k < q->options->n_others; k++) {
        const ks_kiln *kiln = &q->options->others[k];
        if (best && kiln_volume(kiln) >= kiln_volume(best))
            continue;
        if (fits_in(q, q->piece, kiln))
            best = kiln;
    }
    return best;
}

/* From the least change to the greatest: turn it, another kiln, make it smaller. */
static const char *nearest_yes(const question *q, const ks_fit_answer *out)
{
    ks_piece changed = *q->piece;
    changed.turn_step_deg = 0;
    if (q->piece->turn_step_deg > 0 && fits_in(q, &changed, q->kiln))
        return "let it be turned";
    ks_piece bare = ks_piece_bare(q->piece, q->arena);
    if (q->piece->has_setter && fits_in(q, &bare, q->kiln))
        return "it would go in without its setter, so one with less margin or thickness may do";
    const ks_kiln *other = smallest_other(q);
    const char *scale = out->largest_scale > 0
                            ? ks_arena_print(q->arena, "at %.1f %% of its size it would go in",
                                             100 * out->largest_scale)
                            : "no size of it goes in";
    return other ? ks_arena_print(q->arena, "it goes into %s; here %s", other->name, scale) : scale;
}

ks_status ks_fit(const ks_order *order, int piece, const ks_kiln *kiln,
                 const ks_fit_options *options, ks_arena *arena, ks_fit_answer *out, ks_error *err)
{
    question q = {order, &order->pieces[piece], kiln, options, arena, err};
    *out = (ks_fit_answer){.piece = piece, .kiln = kiln, .nearest = ""};
    ks_status status = visits_made(&q, out);
    if (status)
        return status;
    visits_judged(out);
    if (options->scale || !out->fits)
        out->largest_scale = largest_scale(&q, out);
    built_backwards(&q, out);
    out->verdict = verdict_of(&q, out);
    if (!out->fits)
        out->nearest = nearest_yes(&q, out);
    const ks_fit_visit *last = &out->visits[out->n_visits - 1];
    if (last->best.possible)
        ks_fit_care_of(order, q.piece, kiln, &last->best, order->firings[0].cone, &out->care);
    return KS_OK;
}
