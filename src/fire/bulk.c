#include "fire/load.h"

#include <math.h>

#define PI 3.14159265358979323846
#define M_PER_MM 1e-3
#define M2_PER_MM2 1e-6

static double perimeter_mm(const ks_outline *outline)
{
    double sum = 2 * PI * outline->round;
    for (int i = 0; i < outline->n; i++) {
        ks_point a = outline->at[i], b = outline->at[(i + 1) % outline->n];
        sum += hypot(b.x - a.x, b.y - a.y);
    }
    return sum;
}

/* A corner that turns by `turn`, its wall mitred: worked out by finite elements at 10 to 90
 * degrees, within 0.6 %; at 90 degrees theory has 1 - (2 / pi) ln 2 = 0.559, and Langmuir 0.54. */
static double corner(double turn)
{
    return turn * (0.5 - 0.1326 * turn + 0.0260 * turn * turn);
}

double ks_corners(const ks_outline *outline)
{
    double sum = 0;
    if (outline->n < 3 || outline->round > 1)
        return PI; /* round all about; a polygon grown by a radius has round corners */
    for (int i = 0; i < outline->n; i++) {
        ks_point a = outline->at[i], b = outline->at[(i + 1) % outline->n],
                 c = outline->at[(i + 2) % outline->n];
        double turn = remainder(atan2(c.y - b.y, c.x - b.x) - atan2(b.y - a.y, b.x - a.x), 2 * PI);
        sum += turn > 0 ? corner(turn) : 0.5 * turn;
    }
    return sum;
}

void ks_heat_load_chamber(int n_parts, const ks_chamber_part *parts, ks_heat_load *out)
{
    double wall_m2 = 0;
    for (int i = 0; i < n_parts; i++) {
        double height_m = (parts[i].to_mm - parts[i].from_mm) * M_PER_MM;
        double area_m2 = ks_outline_area(&parts[i].outline) * M2_PER_MM2;
        out->area_m2 = fmax(out->area_m2, area_m2);
        out->volume_m3 += area_m2 * height_m;
        out->height_m += height_m;
        wall_m2 += perimeter_mm(&parts[i].outline) * M_PER_MM * height_m;
        out->corners += ks_corners(&parts[i].outline) * height_m;
    }
    out->perimeter_m = wall_m2 / out->height_m;
    out->corners /= out->height_m;
}

/* A load in bulk stands at its usual thickness: walls of 7 mm, pieces as broad as high, on shelves
 * of 16 mm that leave 25 mm to the wall. */
static ks_ware_heat bulk_ware(const ks_bulk_load *bulk, double kg)
{
    ks_ware_heat ware = ks_ware_of_mass(kg, bulk->stage, bulk->loss_on_ignition);
    double wall_mm = bulk->wall_mm > 0 ? bulk->wall_mm : 7;
    ware.wall_kg_m = wall_mm * M_PER_MM * ware.fired_kg;
    double skin_m2 = kg / 2000 / (wall_mm * M_PER_MM);
    ware.plan_m2 = skin_m2 / 6;
    ware.upright_m2 = skin_m2 / 4;
    return ware;
}

void ks_heat_load_of_bulk(const ks_kiln *kiln, const ks_bulk_load *bulk,
                          const ks_fire_options *options, ks_arena *arena, ks_heat_load *out)
{
    int n = bulk->levels > 0 ? bulk->levels : 1;
    *out = (ks_heat_load){
        .n = n, .levels = KS_TAKE(arena, n, ks_load_level), .over = KS_TAKE(arena, n * n, bool)};
    ks_heat_load_chamber(kiln->n_parts, kiln->parts, out);
    double inset_m2 = out->perimeter_m * 0.025;
    for (int i = 0; i < n; i++) {
        ks_load_level *level = &out->levels[i];
        *level = (ks_load_level){.level = i,
                                 .from_m = out->height_m * i / n,
                                 .to_m = out->height_m * (i + 1) / n,
                                 .share = 1,
                                 .bottom = i == 0,
                                 .top = i == n - 1,
                                 .shelf_m2 = fmax(out->area_m2 - inset_m2, 0.5 * out->area_m2),
                                 .shelf_thickness_m = 0.016};
        double kg = bulk->ware_kg * options->ware_fraction / n;
        level->edge = level->middle = bulk_ware(bulk, 0.5 * kg);
        ks_level_furniture(level, "cordierite", bulk->furniture_kg / n, arena);
        if (i + 1 < n)
            out->over[i * n + i + 1] = true;
    }
}
