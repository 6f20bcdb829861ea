#include "kilnstow/fit.h"

#include "fit/fit_ask.h"
#include "fit/fit_care.h"
#include "fit/fit_piece.h"
#include "fit/fit_way.h"

ks_fit_options ks_fit_default(void)
{
    return (ks_fit_options){.tape_mm = 3, .tape_part = 0.01, .board_mm = 18};
}

/* As it goes into this firing, from how it was drawn. */
static ks_piece as_it_goes_in(const ks_fit_question *q, ks_piece *drawn)
{
    double factor = 1;
    const ks_clay *clay = ks_clay_or_usual(q->order->clays, drawn->clay);
    if (q->options->drawn == KS_DRAWN_WET)
        factor = 1 / ks_fit_wet_factor(clay, drawn->stage, q->cone);
    if (q->options->drawn == KS_DRAWN_FINISHED)
        factor = 1 / (1 - ks_clay_shrinkage(clay, drawn->stage, KS_FIRED, q->cone));
    return ks_piece_scale(drawn, factor, q->arena);
}

static const char *assumed_of(const ks_fit_question *q, const ks_fit_answer *out)
{
    const char *guessed = q->piece->defaults ? q->piece->defaults : "";
    bool untold = out->care.shelf && (out->care.travel.assumed || out->care.bare_travel.assumed);
    const char *clay = untold
                           ? "its clay shrinks by 8 to 15 % in all, as nothing is told of it: fire "
                             "a test bar"
                           : "";
    return ks_arena_print(q->arena, "%s%s%s", guessed, *guessed && *clay ? "; " : "", clay);
}

/* What it stands on in its last firing, and what is wrong with that. */
static void judge(const ks_fit_question *q, ks_fit_answer *out)
{
    const ks_fit_visit *last = &out->visits[out->n_visits - 1];
    ks_fit_question then = *q;
    then.piece = last->piece;
    ks_fit_setting_of(&then, &out->setting);
    if (last->best.possible)
        ks_fit_care_of(&then, &last->best, &out->care);
    ks_fit_find_buts(&then, out);
    out->fits = out->goes_in && out->n_buts == 0;
}

static bool holds(const ks_fit_answer *out)
{
    const ks_fit_way *way = &out->visits[out->n_visits - 1].best;
    return way->possible && out->care.on_shelf_kg <= way->limit_kg;
}

ks_status ks_fit(const ks_order *order, int piece, const ks_kiln *kiln,
                 const ks_fit_options *options, ks_arena *arena, ks_fit_answer *out, ks_error *err)
{
    ks_fit_question q = {
        .order = order, .kiln = kiln, .options = options, .arena = arena, .err = err};
    q.firing = &order->firings[ks_fit_firing(order, &order->pieces[piece], arena)];
    q.cone = q.firing->cone;
    q.known = options->known ? options->known : ks_fit_known_create(arena);
    ks_piece asked = as_it_goes_in(&q, &order->pieces[piece]);
    q.piece = &asked;
    *out = (ks_fit_answer){.piece = piece, .kiln = kiln};
    ks_status status = ks_fit_visits(&q, out);
    if (status)
        return status;
    judge(&q, out);
    if (options->scale || !out->goes_in)
        out->largest_scale = ks_fit_largest_scale(&q, out->goes_in && holds(out));
    ks_fit_built_backwards(&q, out);
    ks_fit_find_joint(&q, &out->joint);
    out->assumed = assumed_of(&q, out);
    out->head = ks_fit_head(out);
    out->verdict = ks_fit_verdict(&q, out);
    out->margin = ks_fit_margin(&q, out);
    if (!out->fits)
        ks_fit_nearest(&q, out);
    return KS_OK;
}
