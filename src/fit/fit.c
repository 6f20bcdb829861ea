#include "kilnstow/fit.h"

#include "fit/fit_ask.h"
#include "fit/fit_care.h"
#include "fit/fit_piece.h"

ks_fit_options ks_fit_default(void)
{
    return (ks_fit_options){.tape_mm = 3, .tape_part = 0.01, .board_mm = 18};
}

/* The hottest firing that its body and glazes allow, once it is dry; the first of all when none
 * does. */
static const char *cone_for(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    const char *best = NULL;
    ks_piece dry = *piece;
    dry.dries_in_kiln = true;
    for (int f = 0; f < order->n_firings; f++)
        if (ks_piece_suits(order, &dry, &order->firings[f], arena, NULL) &&
            (!best || ks_cone_rank(order->firings[f].cone) > ks_cone_rank(best)))
            best = order->firings[f].cone;
    return best ? best : order->firings[0].cone;
}

/* As it goes into this firing, from how it was drawn. */
static ks_piece as_it_goes_in(const ks_fit_question *q, ks_piece *drawn)
{
    double factor = 1;
    if (drawn->clay >= 0 && q->options->drawn == KS_DRAWN_WET)
        factor = 1 / ks_fit_wet_factor(&q->order->clays[drawn->clay], drawn->stage, q->cone);
    if (drawn->clay >= 0 && q->options->drawn == KS_DRAWN_FINISHED)
        factor = 1 / (1 - ks_clay_shrinkage(&q->order->clays[drawn->clay], drawn->stage, KS_FIRED,
                                            q->cone));
    return ks_piece_scale(drawn, factor, q->arena);
}

/* Without lengths of a bar the clay is taken not to shrink. */
static const char *assumed_of(const ks_fit_question *q)
{
    const ks_piece *piece = q->piece;
    bool bar = piece->clay >= 0 && q->order->clays[piece->clay].n_bar > 0;
    bool matters = piece->stage < KS_BISQUE || q->options->drawn != KS_DRAWN_NOW;
    const char *guessed = piece->defaults ? piece->defaults : "";
    const char *dry = bar || !matters ? "" : "no shrinkage, as its clay's is not told";
    return ks_arena_print(q->arena, "%s%s%s", guessed, *guessed && *dry ? ", " : "", dry);
}

ks_status ks_fit(const ks_order *order, int piece, const ks_kiln *kiln,
                 const ks_fit_options *options, ks_arena *arena, ks_fit_answer *out, ks_error *err)
{
    ks_fit_question q = {order, NULL, kiln, options, NULL, arena, err};
    q.cone = cone_for(order, &order->pieces[piece], arena);
    ks_piece asked = as_it_goes_in(&q, &order->pieces[piece]);
    q.piece = &asked;
    *out = (ks_fit_answer){.piece = piece, .kiln = kiln, .nearest = ""};
    ks_status status = ks_fit_visits(&q, out);
    if (status)
        return status;
    if (options->scale || !out->fits)
        out->largest_scale = ks_fit_largest_scale(&q, out->fits);
    ks_fit_built_backwards(&q, out);
    out->assumed = assumed_of(&q);
    out->verdict = ks_fit_verdict(&q, out);
    if (!out->fits)
        ks_fit_nearest(&q, out);
    const ks_fit_visit *last = &out->visits[out->n_visits - 1];
    ks_fit_question then = q;
    then.piece = last->piece;
    ks_fit_setting_of(&then, &out->setting);
    if (last->best.possible)
        ks_fit_care_of(&then, &last->best, &out->care);
    return KS_OK;
}
