#include "kilnstow/order.h"
#include "studio/parts.h"
#include "studio/densities.h"
#include "studio/names.h"

#include <math.h>
#include <string.h>

/* Where only a total is told, its cone is unknown: that of the body's hottest firing, else this. */
#define USUAL_GLAZE_CONE "6"

typedef struct {
    int rank;
    double length;
} cone_mark;

static const char *const raw_stages[] = {"wet", "leather", "dry", "bisque"};

static double mark_length(const ks_clay *clay, const char *stage)
{
    for (int i = 0; i < clay->n_bar; i++)
        if (strcmp(clay->bar[i].stage, stage) == 0)
            return clay->bar[i].length;
    return NAN;
}

/* The mark of a raw or bisque stage, or of the last stage before it that was measured. */
static double length_before_glaze(const ks_clay *clay, int stages)
{
    double length = NAN;
    for (int i = 0; i < stages; i++) {
        double mark = mark_length(clay, raw_stages[i]);
        if (!isnan(mark))
            length = mark;
    }
    return length;
}

static int rank_of_mark(const ks_clay *clay, const struct ks_mark *mark)
{
    if (strcmp(mark->stage, "fired") == 0)
        return ks_cone_rank(clay->cone_high ? clay->cone_high : USUAL_GLAZE_CONE);
    return strncmp(mark->stage, "cone ", 5) == 0 ? ks_cone_rank(mark->stage + 5) : -1;
}

/* The fired mark next below (direction -1) or above (1) a cone, or at it. */
static cone_mark nearest_mark(const ks_clay *clay, int rank, int direction)
{
    cone_mark found = {-1, NAN};
    for (int i = 0; i < clay->n_bar; i++) {
        int at = rank_of_mark(clay, &clay->bar[i]);
        if (at < 0 || (at - rank) * direction < 0)
            continue;
        if (found.rank < 0 || (at - found.rank) * direction < 0)
            found = (cone_mark){at, clay->bar[i].length};
    }
    return found;
}

/* Between two marks in proportion to the cones between them; up to a bisque cone the bisque mark,
 * beyond the last mark that one. */
static double fire_length(const ks_clay *clay, const char *cone)
{
    int rank = cone ? ks_cone_rank(cone) : -1, bisque_rank = ks_cone_rank(KS_BISQUE_CONE);
    if (rank < 0)
        rank = 1000; /* not told: the hottest that was measured */
    cone_mark above = nearest_mark(clay, rank, 1), below = nearest_mark(clay, rank, -1);
    double bisque = length_before_glaze(clay, 4);
    if (below.rank < 0) {
        int lowest = above.rank > 0 && above.rank <= bisque_rank ? above.rank - 1 : bisque_rank;
        below = (cone_mark){lowest, bisque};
    }
    if (above.rank < 0 || rank <= below.rank || isnan(below.length))
        return isnan(below.length) ? above.length : below.length;
    double share = (double)(rank - below.rank) / (above.rank - below.rank);
    return below.length + share * (above.length - below.length);
}

static double length_at(const ks_clay *clay, ks_stage stage, const char *cone)
{
    switch (stage) {
    case KS_LEATHER:
        return length_before_glaze(clay, 2);
    case KS_DRY:
        return length_before_glaze(clay, 3);
    case KS_BISQUE:
    case KS_GLAZED:
        return length_before_glaze(clay, 4);
    default:
        return fire_length(clay, cone);
    }
}

/* 8 to 15 % in all, as from a total alone: half of it at drying, 0.5 % at bisque. */
const ks_clay *ks_clay_or_usual(const ks_clay *clays, int place)
{
    static struct ks_mark bar[] = {
        {"wet", 100}, {"dry", 94.25}, {"bisque", 93.75}, {"fired", 88.5}};
    static const ks_clay usual = {.id = "",
                                  .bar = bar,
                                  .n_bar = 4,
                                  .shrinkage_spread = 0.035 / 0.115,
                                  .density_kg_l = KS_STONEWARE_KG_M3 / 1000.0};
    return clays && place >= 0 && clays[place].n_bar > 0 ? &clays[place] : &usual;
}

double ks_clay_shrinkage(const ks_clay *clay, ks_stage from, ks_stage to, const char *cone)
{
    clay = ks_clay_or_usual(clay, 0);
    double before = length_at(clay, from, cone), after = length_at(clay, to, cone);
    return isnan(before) || isnan(after) ? 0 : 1 - after / before;
}

/* Centre of mass of the piece's own blocks as solids. */
typedef struct {
    ks_point at;
    double height_mm;
} mass_centre;

static mass_centre centre_of_mass(const ks_piece *piece)
{
    double sum = 0, x = 0, y = 0, z = 0;
    for (int i = 0; i < piece->n_parts; i++) {
        const ks_part *part = &piece->parts[i];
        if (ks_part_of_setter(part->kind))
            continue;
        double mass = ks_outline_area(&part->outline) * (part->to_mm - part->from_mm);
        ks_point centre = ks_outline_centroid(&part->outline);
        sum += mass;
        x += mass * centre.x;
        y += mass * centre.y;
        z += mass * (part->from_mm + part->to_mm) / 2;
    }
    if (sum <= 0)
        return (mass_centre){{0, 0}, 0};
    return (mass_centre){{x / sum, y / sum}, z / sum};
}

static double distance(ks_point a, ks_point b)
{
    return sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

static double farthest_from(const ks_outline *outline, ks_point centre)
{
    double far = 0;
    for (int i = 0; i < outline->n; i++)
        far = fmax(far, distance(outline->at[i], centre));
    return far + outline->round;
}

static double breadth(const ks_outline *outline)
{
    double most = 0;
    for (int i = 0; i < outline->n; i++)
        most = fmax(most, farthest_from(outline, outline->at[i]) + outline->round);
    return most;
}

/* What form and slab shrink apart by, and how far from that they may be. */
typedef struct {
    double form, slab, apart, apart_low, apart_high;
} parting;

static parting parting_of(const ks_piece *piece, const ks_clay *form, const ks_clay *slab,
                          const char *cone)
{
    parting p = {.form = ks_clay_shrinkage(form, piece->stage, KS_FIRED, cone)};
    if (piece->has_setter)
        p.slab = ks_clay_shrinkage(slab, piece->setter.stage, KS_FIRED, cone);
    p.apart = fabs(p.form - p.slab);
    double off = form == slab ? p.apart * form->shrinkage_spread
                              : p.form * form->shrinkage_spread + p.slab * slab->shrinkage_spread;
    p.apart_low = fmax(0, p.apart - off);
    p.apart_high = p.apart + off;
    return p;
}

static bool is_untold(const ks_clay *clay)
{
    return clay == ks_clay_or_usual(NULL, -1);
}

ks_travel ks_piece_travel(const ks_piece *piece, const ks_clay *clays, const char *cone)
{
    const ks_clay *form = ks_clay_or_usual(clays, piece->clay);
    const ks_clay *under =
        ks_clay_or_usual(clays, piece->setter.clay >= 0 ? piece->setter.clay : piece->clay);
    ks_arena scratch = {0};
    ks_outline feet = ks_parts_feet(piece->parts, piece->n_parts, false, &scratch);
    double reach = farthest_from(&feet, centre_of_mass(piece).at), wide = breadth(&feet);
    parting p = parting_of(piece, form, under, cone);
    ks_travel travel = {.outward_mm = piece->outward_mm,
                        .expected_mm = p.apart * reach,
                        .expected_low_mm = p.apart_low * reach,
                        .expected_high_mm = p.apart_high * reach,
                        .worst_mm = p.apart * wide,
                        .worst_high_mm = p.apart_high * wide,
                        .assumed = is_untold(form) || (piece->has_setter && is_untold(under))};
    if (piece->has_setter) {
        ks_outline slab = ks_parts_feet(piece->parts, piece->n_parts, true, &scratch);
        travel.form_on_slab_mm = travel.expected_mm;
        travel.slab_rim_mm = p.slab * farthest_from(&slab, ks_outline_centroid(&slab));
        travel.slab_rim_low_mm = travel.slab_rim_mm * (1 - under->shrinkage_spread);
        travel.slab_rim_high_mm = travel.slab_rim_mm * (1 + under->shrinkage_spread);
    }
    ks_arena_finish(&scratch);
    return travel;
}

double ks_piece_stands_by(const ks_piece *piece, double tilt_deg)
{
    ks_arena scratch = {0};
    ks_outline feet = ks_parts_feet(piece->parts, piece->n_parts, false, &scratch);
    mass_centre centre = centre_of_mass(piece);
    ks_rotation tilt = ks_rotation_of(tilt_deg);
    double moved = (centre.height_mm - piece->setter_mm) * tilt.s / tilt.c;
    double margin = -ks_outline_from_point(&feet, centre.at);
    ks_arena_finish(&scratch);
    return margin - moved;
}

/* Feet grown outward by what is short stand there. */
ks_reason ks_piece_upheld(double stands_tilted_mm)
{
    return (ks_reason){.name = KS_CHANGE_PROP, .length_mm = -stands_tilted_mm};
}
