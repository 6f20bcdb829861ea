/* Parts fired apart and joined after: how they meet. */
#include "fit/fit_ask.h"
#include "fit/fit_piece.h"
#include "fit/fit_way.h"
#include "studio/parts.h"

#include <math.h>
#include <string.h>

/* An outline about its own middle. */
static ks_outline centred(const ks_outline *shape, ks_arena *arena)
{
    ks_point middle = ks_outline_centroid(shape);
    return ks_outline_place(shape, (ks_stand){-middle.x, -middle.y, 0}, arena);
}

static ks_outline top_of(const ks_piece *piece, ks_arena *arena)
{
    ks_outline *highest = KS_TAKE(arena, piece->n_parts, ks_outline);
    int n = 0;
    for (int i = 0; i < piece->n_parts; i++)
        if (piece->parts[i].to_mm >= piece->height_mm - 0.5)
            highest[n++] = piece->parts[i].outline;
    return ks_outline_hull(highest, n, arena);
}

/* Of a piece fired in the firing that it is for. */
static double shrinks(const ks_order *order, const ks_piece *piece, double *spread, ks_arena *arena)
{
    const ks_clay *clay = ks_clay_or_usual(order->clays, piece->clay);
    const ks_firing *firing = &order->firings[ks_fit_firing(order, piece, arena)];
    *spread = clay->shrinkage_spread;
    return ks_clay_shrinkage(clay, piece->stage, KS_FIRED, firing->cone);
}

static const ks_piece *lower_of(const ks_fit_question *q)
{
    for (int i = 0; q->piece->joined_to && i < q->order->n_pieces; i++)
        if (strcmp(q->order->pieces[i].id, q->piece->joined_to) == 0)
            return &q->order->pieces[i];
    return NULL;
}

/* Of one clay both shrink too much or too little together. */
void ks_fit_find_joint(const ks_fit_question *q, ks_fit_joint *out)
{
    const ks_piece *upper = q->piece, *lower = lower_of(q);
    *out = (ks_fit_joint){0};
    if (!lower || lower->n_parts == 0 || upper->n_parts == 0)
        return;
    ks_outline foot = ks_parts_feet(upper->parts, upper->n_parts, false, q->arena);
    ks_outline top = top_of(lower, q->arena);
    foot = centred(&foot, q->arena);
    top = centred(&top, q->arena);
    double foot_spread, top_spread;
    double foot_by = shrinks(q->order, upper, &foot_spread, q->arena);
    double top_by = shrinks(q->order, lower, &top_spread, q->arena);
    double foot_off = foot_spread * foot_by * ks_outline_around(&foot).r;
    double top_off = top_spread * top_by * ks_outline_around(&top).r;
    double off = upper->clay == lower->clay ? fabs(foot_off - top_off) : foot_off + top_off;
    foot = ks_outline_scaled(&foot, 1 - foot_by, q->arena);
    top = ks_outline_scaled(&top, 1 - top_by, q->arena);
    out->to = lower->id;
    out->within_mm = ks_outline_inside(&foot, &top);
    out->low_mm = out->within_mm - off;
    out->high_mm = out->within_mm + off;
}
