#include "place/fit_care.h"

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

double ks_shelf_stress_mpa(const ks_shelf_kind *shelf, double mass_kg)
{
    ks_box box = ks_outline_box(&shelf->outline);
    double area_m2 = ks_outline_area(&shelf->outline) / 1e6;
    double q_mpa = mass_kg * 9.80665 / area_m2 / 1e6, h = shelf->thickness_mm;
    double width = box.x1 - box.x0, depth = box.y1 - box.y0;
    double filled = area_m2 * 1e6 / (width * depth);
    if (filled > 0.95 || fabs(width - depth) > 0.2 * fmax(width, depth)) {
        double span = 0.8 * fmax(width, depth);
        return 0.75 * q_mpa * span * span / (h * h);
    }
    double a = (width + depth) / 4;
    return 2 * 3 * 3.2 / 8 * q_mpa * a * a / (h * h);
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

void ks_fit_care_of(const ks_order *order, const ks_piece *piece, const ks_kiln *kiln,
                    const ks_fit_way *way, const char *cone, ks_fit_care *out)
{
    const ks_support *support = &kiln->bays[way->bay].supports[way->support];
    const ks_shelf_kind *shelf = &kiln->shelves[support->shelves[0].kind];
    double hands_mm = kiln->floor_above_ground_mm + way->z_mm;
    *out = (ks_fit_care){.lifted_kg = piece->mass_kg};
    out->reach_mm = reach_forced_mm(kiln, way);
    out->limit_kg = ks_lifting_limit_kg(out->reach_mm, hands_mm, hands_mm - 750);
    double share = piece->mass_kg / support->n_shelves;
    out->shelf_stress_mpa =
        ks_shelf_stress_mpa(shelf, share + shelf_mass_kg(kiln, support) / support->n_shelves);
    out->shelf_allowed_mpa = ks_shelf_allowed_mpa(shelf->material, cone);
    out->stands_by_mm = ks_piece_stands_by(piece, 0);
    out->stands_tilted_mm = ks_piece_stands_by(piece, 5);
    out->travel = ks_piece_travel(piece, order->clays, cone);
}
