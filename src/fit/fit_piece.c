#include "fit/fit_piece.h"

#include "studio/parts.h"

#include <math.h>

ks_outline ks_outline_scaled(const ks_outline *outline, double factor, ks_arena *arena)
{
    ks_point *at = KS_TAKE(arena, outline->n, ks_point);
    for (int i = 0; i < outline->n; i++)
        at[i] = (ks_point){outline->at[i].x * factor, outline->at[i].y * factor};
    return (ks_outline){outline->n, at, outline->round * factor};
}

/* Thickness of beds that lie below a height. */
static double beds_below(const ks_piece *piece, double z_mm)
{
    double beds = 0;
    for (int p = 0; p < piece->n_parts; p++) {
        const ks_part *part = &piece->parts[p];
        if (part->kind == KS_PART_GROG && part->from_mm < z_mm)
            beds += fmin(part->to_mm, z_mm) - part->from_mm;
    }
    return beds;
}

static double scale_height(const ks_piece *piece, double z_mm, double factor)
{
    double beds = beds_below(piece, z_mm);
    return beds + (z_mm - beds) * factor;
}

static void scale_joints(ks_piece *piece, double factor, ks_arena *arena)
{
    double *joints = KS_TAKE(arena, piece->n_joints, double);
    for (int i = 0; i < piece->n_joints; i++)
        joints[i] = piece->joints_mm[i] * factor;
    piece->joints_mm = joints;
}

ks_piece ks_piece_scale(const ks_piece *piece, double factor, ks_arena *arena)
{
    ks_piece out = *piece;
    out.parts = KS_TAKE(arena, piece->n_parts, ks_part);
    for (int p = 0; p < piece->n_parts; p++) {
        const ks_part *part = &piece->parts[p];
        out.parts[p] = (ks_part){part->kind,
                                 scale_height(piece, part->from_mm, factor),
                                 scale_height(piece, part->to_mm, factor),
                                 ks_outline_scaled(&part->outline, factor, arena),
                                 {0}};
    }
    scale_joints(&out, factor, arena);
    out.height_mm = scale_height(piece, piece->height_mm, factor);
    out.setter_mm = scale_height(piece, piece->setter_mm, factor);
    out.setter.thickness_mm = piece->setter.thickness_mm * factor;
    out.setter.margin_mm = piece->setter.margin_mm * factor;
    out.outward_mm = piece->outward_mm * factor;
    out.mass_kg = piece->mass_kg * factor * factor * factor;
    out.bare_mass_kg = piece->bare_mass_kg * factor * factor * factor;
    return out;
}

ks_piece ks_piece_lower(const ks_piece *piece, double by_mm, ks_arena *arena)
{
    ks_piece out = *piece;
    double own = piece->height_mm - piece->setter_mm, factor = 1 - by_mm / own;
    out.parts = KS_TAKE(arena, piece->n_parts, ks_part);
    for (int p = 0; p < piece->n_parts; p++) {
        out.parts[p] = piece->parts[p];
        if (ks_part_of_setter(piece->parts[p].kind))
            continue;
        out.parts[p].from_mm =
            piece->setter_mm + factor * (piece->parts[p].from_mm - piece->setter_mm);
        out.parts[p].to_mm = piece->setter_mm + factor * (piece->parts[p].to_mm - piece->setter_mm);
    }
    scale_joints(&out, factor, arena);
    out.height_mm -= by_mm;
    out.mass_kg -= (1 - factor) * piece->bare_mass_kg;
    out.bare_mass_kg *= factor;
    return out;
}

ks_piece ks_piece_narrower(const ks_piece *piece, double by_mm, ks_arena *arena)
{
    ks_piece out = *piece;
    ks_outline hull = ks_piece_hull(piece, arena);
    double factor = 1 - by_mm / (2 * ks_outline_around(&hull).r);
    out.parts = KS_TAKE(arena, piece->n_parts, ks_part);
    for (int p = 0; p < piece->n_parts; p++) {
        out.parts[p] = piece->parts[p];
        out.parts[p].outline = ks_outline_scaled(&piece->parts[p].outline, factor, arena);
    }
    out.mass_kg *= factor * factor;
    out.bare_mass_kg *= factor * factor;
    return out;
}

ks_piece ks_piece_bare(const ks_piece *piece, ks_arena *arena)
{
    ks_piece out = *piece;
    int n = 0;
    if (!piece->has_setter)
        return out;
    out.parts = KS_TAKE(arena, piece->n_parts, ks_part);
    for (int p = 0; p < piece->n_parts; p++) {
        ks_part part = piece->parts[p];
        if (part.kind != KS_PART_FOOT && part.kind != KS_PART_BODY)
            continue;
        part.from_mm = fmax(0, part.from_mm - piece->setter_mm);
        part.to_mm -= piece->setter_mm;
        out.parts[n++] = part;
    }
    out.n_parts = n;
    out.height_mm -= piece->setter_mm;
    out.setter_mm = 0;
    out.has_setter = false;
    out.mass_kg = piece->bare_mass_kg;
    return out;
}

ks_piece ks_piece_on_less(const ks_piece *piece, double thinner_mm, double narrower_mm,
                          ks_arena *arena)
{
    ks_piece out = *piece;
    out.parts = KS_TAKE(arena, piece->n_parts, ks_part);
    double top = 0;
    for (int p = 0; p < piece->n_parts; p++)
        if (piece->parts[p].kind == piece->setter.kind)
            top = fmax(top, piece->parts[p].to_mm);
    for (int p = 0; p < piece->n_parts; p++) {
        ks_part part = piece->parts[p];
        bool setter = part.kind == piece->setter.kind;
        part.from_mm -= part.from_mm >= top ? thinner_mm : 0;
        part.to_mm -= part.to_mm >= top ? thinner_mm : 0;
        if (setter || (part.kind == KS_PART_GROG && part.from_mm <= 0))
            part.outline.round = fmax(0, part.outline.round - narrower_mm);
        out.parts[p] = part;
    }
    out.setter.thickness_mm -= thinner_mm;
    out.setter.margin_mm -= narrower_mm;
    out.setter_mm -= thinner_mm;
    out.height_mm -= thinner_mm;
    return out;
}

ks_outline ks_piece_hull(const ks_piece *piece, ks_arena *arena)
{
    ks_outline *outlines = KS_TAKE(arena, piece->n_parts, ks_outline);
    for (int p = 0; p < piece->n_parts; p++)
        outlines[p] = piece->parts[p].outline;
    return ks_outline_hull(outlines, piece->n_parts, arena);
}

/* How far the hull reaches across the line through two of its vertices, which bound it. */
static double width_over(const ks_outline *hull, ks_point a, ks_point b)
{
    double dx = b.x - a.x, dy = b.y - a.y, length = sqrt(dx * dx + dy * dy), most = 0;
    for (int i = 0; length > 0 && i < hull->n; i++)
        most = fmax(most, fabs((hull->at[i].x - a.x) * dy - (hull->at[i].y - a.y) * dx) / length);
    return length > 0 ? most : INFINITY;
}

/* A least width of a convex polygon lies across one of its edges (M. E. Houle and G. T. Toussaint,
 * Computing the width of a set, 1988). */
double ks_piece_breadth_mm(const ks_piece *piece, ks_arena *arena)
{
    ks_outline hull = ks_piece_hull(piece, arena);
    double least = hull.n < 3 ? 0 : INFINITY;
    for (int i = 0; hull.n >= 3 && i < hull.n; i++)
        least = fmin(least, width_over(&hull, hull.at[i], hull.at[(i + 1) % hull.n]));
    return least + 2 * hull.round;
}
