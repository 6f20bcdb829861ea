/* When it is no yes: what would make it one, each change tried before it is told. */
#include "fit/fit_ask.h"
#include "fit/fit_piece.h"

#include <math.h>

enum { CHANGES_MOST = 8 };

/* Thinner than this a slab breaks when it is moved (common practice, no source). */
static const double slab_least_mm = 6;
/* What of its margin has to be left when form and slab have parted. */
static const double margin_least_mm = 5;

static void tell(const ks_fit_question *q, ks_fit_answer *out, ks_reason change)
{
    if (!out->changes)
        out->changes = KS_TAKE(q->arena, CHANGES_MOST, ks_reason);
    if (out->n_changes < CHANGES_MOST)
        out->changes[out->n_changes++] = change;
}

static void try_turning(const ks_fit_question *q, ks_fit_answer *out)
{
    ks_piece changed = *q->piece;
    changed.turn_step_deg = 0;
    if (q->piece->turn_step_deg > 0 && ks_fit_try(q, &changed, q->kiln))
        tell(q, out, (ks_reason){.name = KS_CHANGE_TURN_FREELY});
}

/* What the worst firing is short of, in height or around. */
static double short_of(const ks_fit_answer *out, bool height)
{
    double most = 0;
    for (int v = 0; v < out->n_visits; v++) {
        const ks_fit_way *way = &out->visits[v].best;
        most = fmax(most, way->possible ? -(height ? way->above_mm : way->around_mm) : 0);
    }
    return ceil(most * 10 - 1e-6) / 10;
}

/* A slab thinner or with less margin, by whole millimetres; both only as far as it still serves. */
static void try_slab(const ks_fit_question *q, ks_fit_answer *out)
{
    if (!q->piece->has_setter)
        return;
    double thinner = ceil(short_of(out, true)), narrower = ceil(short_of(out, false));
    double parts = ks_piece_travel(q->piece, q->order->clays, q->cone).form_on_slab_mm;
    double margin = q->piece->setter.margin_mm - narrower;
    if (q->piece->setter.thickness_mm - thinner < slab_least_mm || thinner + narrower == 0 ||
        (narrower > 0 && (q->piece->setter.outline_told || margin < parts + margin_least_mm)))
        return;
    ks_piece changed = ks_piece_on_less(q->piece, thinner, narrower, q->arena);
    if (!ks_fit_try(q, &changed, q->kiln))
        return;
    tell(q, out,
         (ks_reason){.name = narrower == 0  ? KS_CHANGE_SLAB_THINNER
                             : thinner == 0 ? KS_CHANGE_SLAB_NARROWER
                                            : KS_CHANGE_SLAB_BOTH,
                     .part = ks_part_kind_name(q->piece->setter.kind),
                     .length_mm = thinner,
                     .margin_mm = narrower});
}

static void try_bare(const ks_fit_question *q, ks_fit_answer *out)
{
    ks_piece bare = ks_piece_bare(q->piece, q->arena);
    if (q->piece->has_setter && ks_fit_try(q, &bare, q->kiln))
        tell(q, out,
             (ks_reason){.name = KS_CHANGE_WITHOUT_SLAB,
                         .part = ks_part_kind_name(q->piece->setter.kind)});
}

static void try_lower_floor(const ks_fit_question *q, ks_fit_answer *out)
{
    double by = short_of(out, true);
    ks_kiln *lowered = KS_TAKE(q->arena, 1, ks_kiln);
    *lowered = *q->kiln;
    lowered->floor_post_least_mm = 0;
    if (by > 0 && q->kiln->floor_post_least_mm > 0 && ks_fit_try(q, q->piece, lowered))
        tell(q, out, (ks_reason){.name = KS_CHANGE_LOWER_FLOOR, .length_mm = by});
}

static double kiln_volume(const ks_kiln *kiln)
{
    return ks_outline_area(&kiln->parts[0].outline) * kiln->height_mm;
}

static void try_other_kilns(const ks_fit_question *q, ks_fit_answer *out)
{
    const ks_kiln *best = NULL;
    for (int k = 0; k < q->options->n_others; k++) {
        const ks_kiln *kiln = &q->options->others[k];
        if (best && kiln_volume(kiln) >= kiln_volume(best))
            continue;
        if (ks_fit_try(q, q->piece, kiln))
            best = kiln;
    }
    if (best)
        tell(q, out,
             (ks_reason){.name = KS_CHANGE_OTHER_KILN, .kiln = best->id, .kiln_name = best->name});
}

/* Then not it, but the next one can be made smaller. */
static bool is_fired(const ks_fit_question *q)
{
    return q->piece->stage >= KS_BISQUE;
}

/* As wet clay, where it is known by how much it shrinks; 0 where that makes no difference. */
static double when_wet(const ks_fit_question *q, double mm)
{
    if (q->piece->clay < 0 || q->order->clays[q->piece->clay].n_bar == 0)
        return 0;
    double wet = mm * ks_fit_wet_factor(&q->order->clays[q->piece->clay], q->piece->stage, q->cone);
    return wet - mm < 0.5 ? 0 : ceil(wet);
}

static ks_reason_name smaller(bool next, bool lower)
{
    if (next)
        return lower ? KS_CHANGE_NEXT_LOWER : KS_CHANGE_NEXT_NARROWER;
    return lower ? KS_CHANGE_LOWER : KS_CHANGE_NARROWER;
}

/* By whole millimetres, where height alone, or breadth alone, is short; and more where spheres and
 * necks among posts ask for it. */
static void try_one_smaller(const ks_fit_question *q, ks_fit_answer *out, bool lower)
{
    double by = ceil(short_of(out, lower) * (lower ? 1 : 2)), other = short_of(out, !lower);
    double most = lower ? q->piece->height_mm - q->piece->setter_mm
                        : 2 * ks_piece_breadth_mm(q->piece, q->arena);
    if (by <= 0 || other > 0 || by >= most / 2)
        return;
    ks_piece changed =
        lower ? ks_piece_lower(q->piece, by, q->arena) : ks_piece_narrower(q->piece, by, q->arena);
    if (ks_fit_try(q, &changed, q->kiln))
        tell(q, out,
             (ks_reason){
                 .name = smaller(is_fired(q), lower), .length_mm = by, .wet_mm = when_wet(q, by)});
}

static void try_smaller(const ks_fit_question *q, ks_fit_answer *out)
{
    try_one_smaller(q, out, true);
    try_one_smaller(q, out, false);
}

static void tell_cures(const ks_fit_question *q, ks_fit_answer *out)
{
    for (int i = 0; i < out->n_buts; i++)
        tell(q, out, out->buts[i].cure);
}

/* What falls does so in every kiln, and what its slab does not carry; what is too heavy is so too.
 */
static bool is_of_the_kiln(const ks_fit_answer *out)
{
    for (int i = 0; i < out->n_buts; i++)
        if (out->buts[i].fault == KS_FIT_BREAKS_SHELF)
            return true;
    return !out->goes_in;
}

void ks_fit_nearest(const ks_fit_question *q, ks_fit_answer *out)
{
    if (out->goes_in)
        tell_cures(q, out);
    if (!out->goes_in) {
        try_turning(q, out);
        if (!is_fired(q))
            try_smaller(q, out);
        try_slab(q, out);
        try_lower_floor(q, out);
        if (is_fired(q))
            try_smaller(q, out);
    }
    if (is_of_the_kiln(out))
        try_other_kilns(q, out);
    if (!out->goes_in)
        try_bare(q, out);
    if (!out->goes_in && out->largest_scale > 0)
        tell(
            q, out,
            (ks_reason){.name = KS_CHANGE_SCALE, .percent = floor(1000 * out->largest_scale) / 10});
}
