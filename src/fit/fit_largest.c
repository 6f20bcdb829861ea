/* How large a form may be, before it is made. */
#include "fit/fit_ask.h"
#include "fit/fit_piece.h"
#include "fit/fit_way.h"
#include "studio/parts.h"

#include <math.h>

const char *const ks_foot_names[KS_FEET] = {"round", "oval", "square"};

/* Of a slab whose outline is the form's own, round any other (common practice, no source). */
static const double usual_margin_mm = 15;

static ks_outline foot_of(ks_foot_shape foot, double wide_mm, ks_arena *arena)
{
    if (foot == KS_FOOT_ROUND)
        return ks_outline_disc(0, 0, wide_mm / 2, arena);
    return foot == KS_FOOT_OVAL ? ks_outline_ellipse(0, 0, wide_mm / 2, wide_mm / 3, true, arena)
                                : ks_outline_rectangle(wide_mm, wide_mm, 0, arena);
}

/* Its wall is as thick, so that its mass goes with its surface, and the setter's with its area. */
ks_piece ks_fit_form_of(const ks_piece *piece, ks_foot_shape foot, double wide_mm, double high_mm,
                        ks_arena *arena)
{
    ks_piece out = *piece, bare = ks_piece_bare(piece, arena);
    ks_part_list list = {.arena = arena};
    ks_part_add(&list, KS_PART_BODY, 0, high_mm, foot_of(foot, wide_mm, arena));
    double was = ks_piece_breadth_mm(&bare, arena), part = wide_mm / was;
    if (out.has_setter && out.setter.outline_told) {
        out.setter.outline_told = false;
        out.setter.margin_mm = usual_margin_mm;
    }
    if (out.has_setter)
        ks_parts_set(&list, &out.setter);
    out.parts = list.at;
    out.n_parts = list.n;
    out.height_mm = list.at[list.n - 1].to_mm;
    out.setter_mm = out.height_mm - high_mm;
    out.bare_mass_kg = piece->bare_mass_kg * part * high_mm / bare.height_mm;
    out.setter.mass_kg *= part * part;
    out.mass_kg = out.bare_mass_kg + (out.has_setter ? out.setter.mass_kg : 0);
    out.outward_mm = piece->outward_mm * part;
    out.turn_step_deg = 0;
    out.joints_mm = KS_TAKE(arena, out.n_joints, double);
    for (int i = 0; i < out.n_joints; i++)
        out.joints_mm[i] = piece->joints_mm[i] * high_mm / bare.height_mm;
    out.turn_first_deg = 0;
    return out;
}

static bool goes_in(const ks_fit_question *q, ks_foot_shape foot, double wide_mm, double high_mm)
{
    ks_arena arena = {0};
    ks_fit_question once = *q;
    once.arena = &arena;
    ks_piece form = ks_fit_form_of(q->piece, foot, wide_mm, high_mm, &arena);
    bool goes = ks_fit_try(&once, &form, q->kiln);
    ks_arena_finish(&arena);
    return goes;
}

/* Halved to a millimetre; what goes in at one size is taken to go in at every smaller one. 0 = not
 * even the least does. */
static double widest(const ks_fit_question *q, ks_foot_shape foot, double high_mm)
{
    double low = KS_FIT_LEAST_MM, high = 2 * ks_outline_reach(&q->kiln->parts[0].outline);
    if (!goes_in(q, foot, low, high_mm))
        return 0;
    while (high - low > 1) {
        double middle = (low + high) / 2;
        *(goes_in(q, foot, middle, high_mm) ? &low : &high) = middle;
    }
    return low;
}

/* Of a narrow round one. */
static double tallest(const ks_fit_question *q)
{
    double low = KS_FIT_LEAST_MM, high = q->kiln->height_mm;
    if (!goes_in(q, KS_FOOT_ROUND, KS_FIT_LEAST_MM, low))
        return 0;
    while (high - low > 1) {
        double middle = (low + high) / 2;
        *(goes_in(q, KS_FOOT_ROUND, KS_FIT_LEAST_MM, middle) ? &low : &high) = middle;
    }
    return low;
}

static void find_factors(const ks_fit_question *q, ks_fit_largest *out)
{
    const ks_piece *piece = q->piece;
    const ks_clay *clay = ks_clay_or_usual(q->order->clays, piece->clay);
    out->wet = ks_fit_sure_wet_factor(clay, piece->stage, q->cone);
    out->fired = 1 - ks_clay_shrinkage(clay, piece->stage, KS_FIRED, q->cone);
    out->assumed = piece->clay < 0 || q->order->clays[piece->clay].n_bar == 0;
}

ks_status ks_fit_largest_of(const ks_order *order, int piece, const ks_kiln *kiln,
                            const ks_fit_options *options, ks_arena *arena, ks_fit_largest *out,
                            ks_error *err)
{
    ks_fit_question q = {.order = order,
                         .piece = &order->pieces[piece],
                         .kiln = kiln,
                         .options = options,
                         .arena = arena,
                         .err = err};
    q.firing = &order->firings[ks_fit_firing(order, q.piece, arena)];
    q.cone = q.firing->cone;
    q.known = options->known ? options->known : ks_fit_known_create(arena);
    *out = (ks_fit_largest){.kiln = kiln};
    find_factors(&q, out);
    ks_fit_case asked;
    ks_status status = ks_fit_case_of(order, q.piece, 1, kiln, q.known, arena, &asked, err);
    double most = status ? 0 : tallest(&q);
    out->highest_mm = most;
    if (options->high_mm > most)
        return status;
    int heights = options->high_mm > 0 ? 1 : KS_FIT_SIZES;
    for (int i = 0; i < heights && most > 0; i++) {
        ks_fit_size *size = &out->sizes[out->n_sizes++];
        size->high_mm = options->high_mm > 0
                            ? options->high_mm
                            : fmax(KS_FIT_LEAST_MM, most * (KS_FIT_SIZES - i) / KS_FIT_SIZES);
        size->left_above_mm = most - size->high_mm;
        for (ks_foot_shape foot = 0; foot < KS_FEET; foot++)
            size->wide_mm[foot] = widest(&q, foot, size->high_mm);
    }
    return status;
}
