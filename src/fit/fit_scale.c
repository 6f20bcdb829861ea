/* How large it could be, and how large it has to be made for that. */
#include "fit/fit_ask.h"
#include "fit/fit_piece.h"

#include <math.h>
#include <string.h>

static bool goes_at(const ks_fit_question *q, double scale)
{
    ks_piece scaled = ks_piece_scale(q->piece, scale, q->arena);
    return ks_fit_try(q, &scaled, q->kiln);
}

/* Bisected: what goes in at one scale is taken to go in at every smaller one. Beds and clearances
 * stay as they are. */
double ks_fit_largest_scale(const ks_fit_question *q, bool fits)
{
    const double least = 0.05, most = 20;
    double low = 1, high = 1;
    if (fits)
        for (high = 1.2; high < most && goes_at(q, high); high *= 1.2)
            low = high;
    else
        for (low = 0.85; !goes_at(q, low); low *= 0.8) {
            if (low < least)
                return 0;
            high = low;
        }
    while (high - low > 0.001) {
        double middle = (low + high) / 2;
        if (goes_at(q, middle))
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double mark_of(const ks_clay *clay, const char *stage)
{
    for (int i = 0; i < clay->n_bar; i++)
        if (strcmp(clay->bar[i].stage, stage) == 0)
            return clay->bar[i].length;
    return 0;
}

/* A bar without a mark at leather-hard has that of the wet clay there. */
double ks_fit_wet_factor(const ks_clay *clay, ks_stage stage, const char *cone)
{
    clay = ks_clay_or_usual(clay, 0);
    double wet = mark_of(clay, "wet"), leather = mark_of(clay, "leather");
    if (!(wet > 0))
        return 1;
    double stiff = leather > 0 ? leather / wet : 1;
    return 1 / (stiff * (1 - ks_clay_shrinkage(clay, KS_LEATHER, stage, cone)));
}

double ks_fit_sure_wet_factor(const ks_clay *clay, ks_stage stage, const char *cone)
{
    clay = ks_clay_or_usual(clay, 0);
    double shrunk = 1 - 1 / ks_fit_wet_factor(clay, stage, cone);
    return 1 / (1 - shrunk * (1 - clay->shrinkage_spread));
}

void ks_fit_built_backwards(const ks_fit_question *q, ks_fit_answer *out)
{
    if (!(out->largest_scale > 0))
        return;
    const ks_clay *clay = ks_clay_or_usual(q->order->clays, q->piece->clay);
    if (!(mark_of(clay, "wet") > 0))
        return;
    double wet = ks_fit_wet_factor(clay, q->piece->stage, q->cone);
    /* Of its wet length when it reaches the tightest firing; and if it shrinks as little as may be.
     */
    double then = 1 / ks_fit_wet_factor(clay, out->visits[out->tightest].stage, q->cone);
    double least_shrunk = 1 - (1 - then) * (1 - clay->shrinkage_spread);
    ks_piece bare = ks_piece_bare(q->piece, q->arena);
    double breadth = out->largest_scale * ks_piece_breadth_mm(&bare, q->arena);
    double height = out->largest_scale * bare.height_mm;
    out->largest_wet_breadth_mm = wet * breadth;
    out->largest_wet_height_mm = wet * height;
    out->sure_wet_breadth_mm = wet * breadth * then / least_shrunk;
    out->sure_wet_height_mm = wet * height * then / least_shrunk;
}
