#include "studio/parts.h"
#include "studio/densities.h"
#include "studio/stacked.h"
#include "studio/files/piece_file.h"

#include <stdlib.h>

/* Common practice, no source, unless said. */
static const double fired_per_wet = 0.73; /* mass of fired ware from its wet clay */
static const double dry_per_wet = 0.80;   /* about 20 % of wet clay is water */
static const double leather_per_wet = 0.90;
static const double usual_density_kg_l = KS_STONEWARE_KG_M3 / 1000.0;
static const double porous_share = 0.8; /* density of dry and bisque ware to fired */

static double whole_mg(double kg)
{
    return round(kg * 1e6) / 1e6;
}

static double mass_from_ball(double wet_kg, ks_stage stage)
{
    double share = stage == KS_LEATHER ? leather_per_wet
                   : stage == KS_DRY   ? dry_per_wet
                                       : fired_per_wet;
    return whole_mg(wet_kg * share);
}

static double density_at(const ks_order *order, int clay, ks_stage stage)
{
    double fired = clay >= 0 ? order->clays[clay].density_kg_l : usual_density_kg_l;
    return stage == KS_FIRED ? fired : fired * porous_share;
}

static double breadth_of(const ks_piece *piece)
{
    ks_box all = {INFINITY, INFINITY, -INFINITY, -INFINITY};
    for (int i = 0; i < piece->n_parts; i++) {
        ks_box box = ks_outline_box(&piece->parts[i].outline);
        all = (ks_box){fmin(all.x0, box.x0), fmin(all.y0, box.y0), fmax(all.x1, box.x1),
                       fmax(all.y1, box.y1)};
    }
    return fmax(all.x1 - all.x0, all.y1 - all.y0);
}

/* Walls grow with the ware: 6 mm for a mug, 12 mm for a form of 600 mm. */
double ks_usual_wall_mm(double breadth_mm)
{
    return fmin(fmax(6 + (breadth_mm - 150) / 75, 5), 14);
}

static bool flat(const ks_piece_entry *entry)
{
    return entry->base_mm2 > 0 && entry->piece.height_mm - entry->piece.setter_mm <= KS_TILE_MM &&
           !ks_json_get(entry->node, "profile") && isnan(entry->diameter_mm);
}

static double guessed_mass(const ks_order *order, const ks_piece_entry *entry)
{
    const ks_piece *piece = &entry->piece;
    double own_height = piece->height_mm - piece->setter_mm;
    double mm3 = flat(entry) ? entry->base_mm2 * own_height
                             : (entry->lateral_mm2 + entry->base_mm2) * piece->wall_mm;
    return whole_mg(fmax(mm3 / 1e6 * density_at(order, piece->clay, piece->stage), 0.001));
}

static void fill_mass(ks_reading *reading, ks_piece_entry *entry)
{
    ks_piece *piece = &entry->piece;
    ks_arena *arena = reading->fields.arena;
    piece->bare_mass_kg = entry->told_mass_kg;
    if (isnan(piece->bare_mass_kg) && !isnan(entry->wet_ball_kg)) {
        piece->bare_mass_kg = mass_from_ball(entry->wet_ball_kg, piece->stage);
        ks_default_note(&piece->defaults, "mass from the wet ball", arena);
    }
    if (isnan(piece->bare_mass_kg))
        ks_default_take(&piece->bare_mass_kg, guessed_mass(reading->order, entry), &piece->defaults,
                        "mass", arena);
    piece->mass_kg = piece->bare_mass_kg;
    if (!piece->has_setter)
        return;
    int clay = piece->setter.clay >= 0 ? piece->setter.clay : piece->clay;
    if (isnan(piece->setter.mass_kg))
        piece->setter.mass_kg = whole_mg(
            ks_setter_mass_kg(piece, density_at(reading->order, clay, piece->setter.stage)));
    piece->mass_kg += piece->setter.mass_kg;
}

static bool all_discs_on_axis(const ks_piece *piece)
{
    for (int i = 0; i < piece->n_parts; i++) {
        const ks_outline *outline = &piece->parts[i].outline;
        if (outline->n != 1 || outline->at[0].x != 0 || outline->at[0].y != 0)
            return false;
    }
    return true;
}

/* A piece without corners or handles gains nothing from being turned. */
static void fill_turn(ks_piece *piece)
{
    if (all_discs_on_axis(piece)) {
        piece->turn_step_deg = 360;
        piece->turn_first_deg = 0;
    }
}

static double outward_mm(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    ks_outline *outlines = KS_TAKE(arena, piece->n_parts, ks_outline);
    for (int i = 0; i < piece->n_parts; i++)
        outlines[i] = piece->parts[i].outline;
    ks_outline hull = ks_outline_hull(outlines, piece->n_parts, arena);
    return ks_gridded(order->rules.outward_fraction * ks_outline_around(&hull).r);
}

static void find_sizes(ks_piece *piece, ks_arena *arena)
{
    piece->height_mm = ks_parts_top_mm(piece->parts, piece->n_parts);
    for (int i = 0; i < piece->n_parts; i++)
        if (ks_part_of_setter(piece->parts[i].kind))
            piece->setter_mm = fmax(piece->setter_mm, piece->parts[i].to_mm);
    piece->area_mm2 = ks_parts_area_mm2(piece->parts, piece->n_parts, arena);
    piece->volume_mm3 = piece->area_mm2 * piece->height_mm;
}

void ks_piece_guess(ks_reading *reading, ks_piece_entry *entry)
{
    ks_piece *piece = &entry->piece;
    ks_arena *arena = reading->fields.arena, scratch = {0};
    find_sizes(piece, &scratch);
    ks_default_take(&piece->wall_mm, ks_gridded(ks_usual_wall_mm(breadth_of(piece))),
                    &piece->defaults, "wall", arena);
    double surface = flat(entry) ? entry->base_mm2 + entry->lateral_mm2
                                 : 2 * entry->lateral_mm2 + entry->base_mm2;
    if (isnan(piece->surface_mm2))
        piece->surface_mm2 = round(surface);
    fill_mass(reading, entry);
    fill_turn(piece);
    piece->outward_mm = outward_mm(reading->order, piece, &scratch);
    ks_arena_finish(&scratch);
}

static int by_value(const void *a, const void *b)
{
    double first = *(const double *)a, second = *(const double *)b;
    return (first > second) - (first < second);
}

/* Minor units for a litre of box: the median over the copies' kinds that have a price, 0 if none
 * has. */
static double median_per_litre(const ks_order *order, ks_arena *arena)
{
    double *all = KS_TAKE(arena, order->n_pieces, double);
    int n = 0;
    for (int i = 0; i < order->n_pieces; i++)
        if (order->pieces[i].price_minor >= 0)
            all[n++] = (double)order->pieces[i].price_minor / (order->pieces[i].volume_mm3 / 1e6);
    if (n == 0)
        return 0;
    qsort(all, (size_t)n, sizeof *all, by_value);
    return n % 2 ? all[n / 2] : (all[n / 2 - 1] + all[n / 2]) / 2;
}

void ks_worths_set(ks_order *order, ks_arena *arena)
{
    ks_arena scratch = {0};
    double median = median_per_litre(order, &scratch);
    ks_arena_finish(&scratch);
    for (int i = 0; i < order->n_pieces; i++) {
        ks_piece *piece = &order->pieces[i];
        double litres = piece->volume_mm3 / 1e6;
        if (order->rules.objective == KS_BY_VOLUME)
            piece->worth = litres;
        else if (order->rules.objective == KS_BY_COUNT)
            piece->worth = 1;
        else if (piece->price_minor >= 0)
            piece->worth = (double)piece->price_minor;
        else {
            piece->worth = median * litres;
            ks_default_note(&piece->defaults, "worth", arena);
        }
    }
}
