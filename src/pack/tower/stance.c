#include "pack/tower/stance.h"

#include "studio/parts.h"
#include "studio/stacked.h"

#include <math.h>

/* Heights that differ by no more are one. */
#define LEVEL_MM 0.001

static bool poses_so(const ks_piece *piece, ks_pose pose)
{
    if (pose == piece->pose)
        return true;
    if (piece->pose != KS_UPRIGHT)
        return false;
    if (pose == KS_ON_EDGE)
        return piece->ways & KS_WAY_BIT(KS_EDGE);
    return pose == KS_INVERTED && piece->ways & KS_WAY_BIT(KS_RIM) && ks_piece_is_open(piece);
}

static void take_pose(const ks_piece *piece, ks_pose pose, ks_arena *arena, ks_stance *out)
{
    ks_part *parts;
    out->n_parts = ks_piece_posed(piece, pose, arena, &parts);
    out->parts = parts;
    out->height_mm = ks_parts_top_mm(parts, out->n_parts);
    out->centre = ks_parts_mass_centre(parts, out->n_parts);
}

bool ks_stance_of(const ks_order *order, int piece, ks_pose pose, ks_arena *arena, ks_stance *out)
{
    const ks_piece *it = &order->pieces[piece];
    const ks_stacking *rule = &order->rules.stacking;
    if (!poses_so(it, pose))
        return false;
    *out = (ks_stance){.piece = piece,
                       .pose = pose,
                       .mass_kg = it->mass_kg,
                       .outward_mm = it->outward_mm,
                       .ways = it->ways,
                       .tile = ks_piece_is_tile(it),
                       .flat = ks_piece_is_flat(it),
                       .thin = it->wall_mm < rule->thin_rim_mm};
    bool raw = it->stage == KS_DRY || it->stage == KS_LEATHER;
    out->carries = !(raw && it->wall_mm > rule->thick_mm);
    take_pose(it, pose, arena, out);
    return true;
}

double ks_stance_rise(const ks_stance *lower, const ks_stance *upper)
{
    return fmax(0, ks_parts_rise_mm(lower->parts, lower->n_parts, upper->parts, upper->n_parts, 0));
}

double ks_stance_contact_mm(const ks_stance *lower, const ks_stance *upper, double rise_mm)
{
    double at = 0;
    for (int p = 0; p < lower->n_parts; p++)
        for (int q = 0; q < upper->n_parts; q++)
            if (fabs(rise_mm + upper->parts[q].from_mm - lower->parts[p].to_mm) <= LEVEL_MM &&
                ks_parts_apart_mm(&lower->parts[p], &upper->parts[q]) < 0)
                at = fmax(at, lower->parts[p].to_mm);
    return at;
}

bool ks_stance_has_finger(const ks_stance *lower, const ks_stance *upper, double rise_mm,
                          double finger_mm)
{
    if (rise_mm + upper->height_mm >= lower->height_mm - LEVEL_MM)
        return true;
    for (int p = 0; p < lower->n_parts; p++)
        for (int q = 0; q < upper->n_parts; q++)
            if (lower->parts[p].hollow.n > 0 &&
                lower->parts[p].to_mm > rise_mm + upper->parts[q].to_mm &&
                ks_outline_inside(&upper->parts[q].outline, &lower->parts[p].hollow) < finger_mm)
                return false;
    return true;
}

static bool is_foot_within(const ks_stance *lower, const ks_part *foot, double rise_mm)
{
    for (int p = 0; p < lower->n_parts; p++)
        if (fabs(lower->parts[p].to_mm - rise_mm) <= LEVEL_MM &&
            ks_outline_inside(&foot->outline, &lower->parts[p].outline) >= 0)
            return true;
    return false;
}

bool ks_stance_is_aligned(const ks_stance *lower, const ks_stance *upper, ks_arena *arena)
{
    const double feet_mm = 10;
    ks_outline a = ks_parts_feet(lower->parts, lower->n_parts, false, arena);
    ks_outline b = ks_parts_feet(upper->parts, upper->n_parts, false, arena);
    if (lower->tile && upper->tile)
        return true;
    ks_outline wider_a = a, wider_b = b;
    wider_a.round += feet_mm;
    wider_b.round += feet_mm;
    return ks_outline_inside(&a, &wider_b) >= 0 && ks_outline_inside(&b, &wider_a) >= 0;
}

bool ks_stance_is_within(const ks_stance *lower, const ks_stance *upper, double rise_mm)
{
    for (int q = 0; q < upper->n_parts; q++)
        if (upper->parts[q].from_mm <= LEVEL_MM &&
            !is_foot_within(lower, &upper->parts[q], rise_mm))
            return false;
    return true;
}

/* Of the disc about the axis that an outline holds. */
static double disc_mm(const ks_outline *outline)
{
    return fmax(0, -ks_outline_from_point(outline, (ks_point){0, 0}));
}

double ks_stance_held_mm(const ks_stance *lower, const ks_stance *upper, double rise_mm)
{
    double held = 0;
    for (int q = 0; q < upper->n_parts; q++) {
        const ks_part *foot = &upper->parts[q];
        if (!lower && foot->from_mm <= LEVEL_MM)
            held = fmax(held, disc_mm(&foot->outline));
        for (int p = 0; lower && p < lower->n_parts; p++)
            if (fabs(rise_mm + foot->from_mm - lower->parts[p].to_mm) <= LEVEL_MM &&
                ks_parts_apart_mm(&lower->parts[p], foot) < 0)
                held = fmax(held, fmin(disc_mm(&foot->outline), disc_mm(&lower->parts[p].outline)));
    }
    return held;
}
