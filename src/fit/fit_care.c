#include "fit/fit_care.h"

#include "fit/fit_piece.h"
#include "studio/densities.h"
#include "studio/parts.h"

#include <math.h>
#include <string.h>

double ks_lifting_limit_kg(double reach_mm, double hands_mm, double lifted_by_mm)
{
    double h = fmax(25, reach_mm / 10), v = fmin(175, fmax(0, hands_mm / 10));
    double d = fmin(175, fmax(25, fabs(lifted_by_mm) / 10));
    if (h > 63.5)
        return 0;
    return 23 * (25 / h) * (1 - 0.003 * fabs(v - 75)) * (0.82 + 4.5 / d);
}

/* Stress for one kilogram spread over the shelf. */
static double stress_of_one_kg(const ks_shelf_kind *shelf)
{
    ks_box box = ks_outline_box(&shelf->outline);
    double area_mm2 = ks_outline_area(&shelf->outline), h = shelf->thickness_mm;
    double q_mpa = 9.80665 / area_mm2, width = box.x1 - box.x0, depth = box.y1 - box.y0;
    bool round =
        area_mm2 <= 0.95 * width * depth && fabs(width - depth) <= 0.2 * fmax(width, depth);
    if (!round) {
        double span = 0.8 * fmax(width, depth);
        return 0.75 * q_mpa * span * span / (h * h);
    }
    double a = (width + depth) / 4;
    return 2 * 3 * 3.2 / 8 * q_mpa * a * a / (h * h);
}

double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double mass_kg)
{
    return mass_kg * stress_of_one_kg(shelf);
}

double ks_shelf_bears_kg(const ks_shelf_kind *shelf, const char *cone)
{
    double allowed = ks_shelf_allowed_mpa(shelf->material, cone);
    if (shelf->safe_load_kg > 0 || allowed <= 0)
        return shelf->safe_load_kg;
    return fmax(0, allowed / stress_of_one_kg(shelf) - shelf->mass_kg);
}

double ks_shelf_allowed_mpa(const char *material, const char *cone)
{
    /* Hot modulus of rupture, MPa; cordierite at 1200 C and nitride-bonded silicon carbide at 1350
     * C from makers' sheets, the others typical, no source. */
    static const struct {
        const char *material;
        double hot_mpa;
    } known[] = {{"cordierite", 9.8}, {"mullite", 10}, {"silicon carbide", 40}, {"alumina", 12}};
    double part = ks_cone_rank(cone) >= ks_cone_rank("8") ? 0.05 : 0.10;
    for (size_t i = 0; i < sizeof known / sizeof *known; i++)
        if (material && strcmp(material, known[i].material) == 0)
            return part * known[i].hot_mpa;
    return 0;
}

static double shelf_mass_kg(const ks_kiln *kiln, const ks_support *support)
{
    double mass = 0;
    for (int s = 0; s < support->n_shelves; s++)
        mass += kiln->shelves[support->shelves[s].kind].mass_kg;
    return mass;
}

/* Over the wall of a top loader, or in at the door, to the middle of where it is to stand. */
static double reach_forced_mm(const ks_kiln *kiln, const ks_fit_way *way)
{
    const double wall_mm = 100, body_mm = 100; /* kiln wall with casing; to the ankles: typical */
    ks_box box = ks_outline_box(&kiln->parts[0].outline);
    double to_middle = way->stand.y - box.y0;
    return to_middle + body_mm + (kiln->loading == KS_TOP_LOADER ? wall_mm : 0);
}

static void find_lifting(const ks_fit_question *q, const ks_fit_way *way, const ks_support *support,
                         ks_fit_care *out)
{
    double hands_mm = q->kiln->floor_above_ground_mm + way->z_mm;
    out->form_kg = q->piece->has_setter ? q->piece->bare_mass_kg : q->piece->mass_kg;
    out->lifted_kg = q->piece->mass_kg;
    out->with_shelf_kg = out->lifted_kg + shelf_mass_kg(q->kiln, support);
    out->reach_mm = reach_forced_mm(q->kiln, way);
    out->limit_kg = ks_lifting_limit_kg(out->reach_mm, hands_mm, hands_mm - 750);
}

/* The greatest part of the ground it stands on that lies on one of the shelves, by a grid of
 * points: its weight is taken to be spread over the hull of its feet, or over its slab. */
static double greatest_share(const ks_fit_question *q, const ks_fit_way *way,
                             const ks_support *support)
{
    enum { POINTS = 40 };
    ks_outline ground =
        ks_parts_feet(q->piece->parts, q->piece->n_parts, q->piece->has_setter, q->arena);
    ks_outline placed = ks_outline_place(&ground, way->stand, q->arena);
    ks_box box = ks_outline_box(&placed);
    double on_most = 0, on_any = 0;
    for (int s = 0; s < support->n_shelves; s++) {
        ks_outline shelf = ks_outline_place(&q->kiln->shelves[support->shelves[s].kind].outline,
                                            support->shelves[s].stand, q->arena);
        double on = 0;
        for (int i = 0; i < POINTS * POINTS; i++) {
            ks_point p = {box.x0 + (box.x1 - box.x0) * (i % POINTS + 0.5) / POINTS,
                          box.y0 + (box.y1 - box.y0) * (i / POINTS + 0.5) / POINTS};
            on += ks_outline_from_point(&placed, p) <= 0 && ks_outline_from_point(&shelf, p) <= 0;
        }
        on_most = fmax(on_most, on);
        on_any += on;
    }
    return on_any > 0 ? on_most / on_any : 1;
}

static void find_shelf(const ks_fit_question *q, const ks_fit_way *way, const ks_support *support,
                       ks_fit_care *out)
{
    const ks_shelf_kind *shelf = &q->kiln->shelves[support->shelves[0].kind];
    out->shelf = shelf->id;
    out->shelves = support->n_shelves;
    out->on_shelf_kg = q->piece->mass_kg * greatest_share(q, way, support);
    out->shelf_safe_kg = ks_shelf_bears_kg(shelf, q->cone);
    out->shelf_stress_mpa = ks_shelf_stress_mpa(shelf, out->on_shelf_kg + shelf->mass_kg);
    out->shelf_allowed_mpa = ks_shelf_allowed_mpa(shelf->material, q->cone);
}

void ks_fit_care_of(const ks_fit_question *q, const ks_fit_way *way, ks_fit_care *out)
{
    const ks_support *support = &q->kiln->bays[way->bay].supports[way->support];
    ks_piece bare = ks_piece_bare(q->piece, q->arena);
    *out = (ks_fit_care){.stands_by_mm = ks_piece_stands_by(q->piece, 0),
                         .stands_tilted_mm = ks_piece_stands_by(q->piece, 5),
                         .travel = ks_piece_travel(q->piece, q->order->clays, q->cone),
                         .bare_travel = ks_piece_travel(&bare, q->order->clays, q->cone)};
    find_lifting(q, way, support, out);
    find_shelf(q, way, support, out);
}

static void find_beds(const ks_piece *piece, ks_fit_setting *out)
{
    for (int p = 0; p < piece->n_parts; p++) {
        const ks_part *part = &piece->parts[p];
        double litres_a_mm = ks_outline_area(&part->outline) / 1e6;
        if (part->kind == KS_PART_GROG && part->from_mm <= 0)
            out->under_litres += litres_a_mm * piece->setter.bed_under_mm;
        else if (part->kind == KS_PART_GROG)
            out->over_litres += litres_a_mm * piece->setter.bed_over_mm;
    }
    out->grog_kg = KS_GROG_KG_M3 / 1000.0 * (out->under_litres + out->over_litres);
}

/* Both shrink, and then the form has moved over the slab by as much as they may part when one foot
 * is held fast. */
static double fired_margin_mm(const ks_fit_question *q, const ks_outline *slab, const ks_clay *clay)
{
    ks_travel travel = ks_piece_travel(q->piece, q->order->clays, q->cone);
    ks_piece form = *q->piece, under = *q->piece;
    double form_to = q->piece->clay < 0 ? 1
                                        : 1 - ks_clay_shrinkage(&q->order->clays[q->piece->clay],
                                                                q->piece->stage, KS_FIRED, q->cone);
    double slab_to =
        clay ? 1 - ks_clay_shrinkage(clay, q->piece->setter.stage, KS_FIRED, q->cone) : 1;
    form = ks_piece_scale(&form, form_to, q->arena);
    under = ks_piece_scale(&under, slab_to, q->arena);
    ks_outline feet = ks_parts_feet(form.parts, form.n_parts, false, q->arena);
    ks_outline rim = ks_parts_feet(under.parts, under.n_parts, true, q->arena);
    ks_point from = ks_outline_centroid(slab);
    ks_stand together = {from.x * (slab_to - form_to), from.y * (slab_to - form_to), 0};
    feet = ks_outline_place(&feet, together, q->arena);
    return ks_outline_inside(&feet, &rim) - (travel.worst_mm - travel.expected_mm);
}

void ks_fit_setting_of(const ks_fit_question *q, ks_fit_setting *out)
{
    const ks_setter *setter = &q->piece->setter;
    *out = (ks_fit_setting){0};
    if (!q->piece->has_setter)
        return;
    int body = setter->clay >= 0 ? setter->clay : q->piece->clay;
    const ks_clay *clay = body >= 0 ? &q->order->clays[body] : NULL;
    ks_outline slab = ks_parts_feet(q->piece->parts, q->piece->n_parts, true, q->arena);
    ks_box box = ks_outline_box(&slab);
    out->now_x_mm = box.x1 - box.x0;
    out->now_y_mm = box.y1 - box.y0;
    out->now_thick_mm = setter->thickness_mm;
    double wet = clay ? ks_fit_wet_factor(clay, setter->stage, q->cone) : 0;
    out->wet_x_mm = wet * out->now_x_mm;
    out->wet_y_mm = wet * out->now_y_mm;
    out->wet_thick_mm = wet * out->now_thick_mm;
    out->fired_margin_mm = fired_margin_mm(q, &slab, clay);
    find_beds(q->piece, out);
}
