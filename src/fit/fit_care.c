#include "fit/fit_care.h"

#include "fit/fit_piece.h"
#include "studio/densities.h"
#include "studio/lifting.h"
#include "studio/parts.h"
#include "studio/shelf_strength.h"

#include <math.h>
#include <string.h>

static double shelf_mass_kg(const ks_kiln *kiln, const ks_support *support)
{
    double mass = 0;
    for (int s = 0; s < support->n_shelves; s++)
        mass += kiln->shelves[support->shelves[s].kind].mass_kg;
    return mass;
}

static void find_lifting(const ks_fit_question *q, const ks_support *support, ks_fit_care *out)
{
    ks_lift lift = ks_lift_of(&q->order->rules, q->piece, q->kiln);
    out->form_kg = lift.mass_kg;
    out->lifted_kg = q->piece->mass_kg;
    out->with_shelf_kg = out->lifted_kg + shelf_mass_kg(q->kiln, support);
    out->reach_mm = lift.reach_mm;
    out->limit_kg = lift.alone_kg;
    out->team_kg = ks_lift_team_kg(&lift, KS_LIFTERS_MOST);
    out->lifters = lift.people;
    out->hoist_kg = lift.hoist_kg;
    out->who = ks_lift_who(&lift, &q->order->display, q->arena);
    out->lifted_so = lift.at_hand;
}

/* In the middle a form bends its shelf more than the same mass all over it. */
static bool is_strained(const ks_shelf_kind *shelf, const ks_fit_way *way)
{
    return !(shelf->safe_load_kg > 0) && way->limit_kg < INFINITY &&
           way->stress_mpa >
               ks_shelf_stress_mpa(shelf, way->bending, way->limit_kg + shelf->mass_kg);
}

static void find_shelf(const ks_fit_question *q, const ks_fit_way *way, ks_fit_care *out)
{
    const ks_shelf_kind *shelf = &q->kiln->shelves[way->shelf];
    out->shelf = shelf->id;
    out->shelves = way->n_shelves;
    out->on_shelf_kg = q->piece->mass_kg;
    out->shelf_safe_kg = way->bears_low_kg;
    out->shelf_limit_kg = way->limit_kg;
    out->shelf_stress_mpa = way->stress_mpa;
    out->shelf_allowed_mpa = ks_shelf_allowed_mpa(shelf->material, q->firing);
    out->may_sag = out->on_shelf_kg > way->bears_low_kg || is_strained(shelf, way);
}

void ks_fit_care_of(const ks_fit_question *q, const ks_fit_way *way, ks_fit_care *out)
{
    const ks_support *support = &q->kiln->bays[way->bay].supports[way->support];
    ks_piece bare = ks_piece_bare(q->piece, q->arena);
    *out = (ks_fit_care){.stands_by_mm = ks_piece_stands_by(q->piece, 0),
                         .stands_tilted_mm = ks_piece_stands_by(q->piece, 5),
                         .travel = ks_piece_travel(q->piece, q->order->clays, q->cone),
                         .bare_travel = ks_piece_travel(&bare, q->order->clays, q->cone)};
    find_lifting(q, support, out);
    find_shelf(q, way, out);
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
    const ks_clay *body = ks_clay_or_usual(q->order->clays, q->piece->clay);
    double form_to = 1 - ks_clay_shrinkage(body, q->piece->stage, KS_FIRED, q->cone);
    double slab_to = 1 - ks_clay_shrinkage(clay, q->piece->setter.stage, KS_FIRED, q->cone);
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
    const ks_clay *clay = ks_clay_or_usual(q->order->clays, body);
    ks_outline slab = ks_parts_feet(q->piece->parts, q->piece->n_parts, true, q->arena);
    ks_box box = ks_outline_box(&slab);
    out->now_x_mm = box.x1 - box.x0;
    out->now_y_mm = box.y1 - box.y0;
    out->now_thick_mm = setter->thickness_mm;
    double wet = ks_fit_wet_factor(clay, setter->stage, q->cone), shrunk = 1 - 1 / wet;
    out->wet_low = (1 - shrunk) / (1 - shrunk * (1 - clay->shrinkage_spread));
    out->wet_high = (1 - shrunk) / (1 - shrunk * (1 + clay->shrinkage_spread));
    out->wet_x_mm = wet * out->now_x_mm;
    out->wet_y_mm = wet * out->now_y_mm;
    out->wet_thick_mm = wet * out->now_thick_mm;
    out->fired_margin_mm = fired_margin_mm(q, &slab, clay);
    find_beds(q->piece, out);
}
