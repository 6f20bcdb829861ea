#include "fire/load.h"
#include "studio/densities.h"
#include "studio/level_name.h"
#include "studio/shelf_material.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define M_PER_MM 1e-3
#define M2_PER_MM2 1e-6

/* How near the wall, as a fraction of the way to the middle, a piece counts as edge ware: about
 * half of a full shelf's area lies there. */
#define EDGE_DEPTH 0.33

static const ks_chamber_part *part_at(const ks_load *load, double z_mm)
{
    for (int i = 0; i < load->n_parts; i++)
        if (z_mm < load->parts[i].to_mm)
            return &load->parts[i];
    return &load->parts[load->n_parts - 1];
}

bool ks_stands_at_edge(const ks_load *load, const ks_level *level, ks_stand stand)
{
    const ks_outline *chamber = &part_at(load, level->z_mm)->outline;
    double here = -ks_outline_from_point(chamber, (ks_point){stand.x, stand.y});
    double most = -ks_outline_from_point(chamber, ks_outline_centroid(chamber));
    return here < EDGE_DEPTH * most;
}

static double part_kg(const ks_part *part, double density_kg_l)
{
    return ks_outline_area(&part->outline) * (part->to_mm - part->from_mm) * 1e-6 * density_kg_l;
}

#define RAW_SLAB_KG_L (KS_RAW_CLAY_KG_M3 / 1000.0)
#define GROG_KG_L (KS_GROG_KG_M3 / 1000.0)

static double loss_of(const ks_order *order, int clay)
{
    return clay >= 0 ? order->clays[clay].loss_on_ignition : 0.07;
}

/* Adds the setter's share of a piece's mass and returns it. */
static double add_setter(const ks_plan *plan, const ks_placed *placed, const ks_piece *piece,
                         ks_ware_heat *ware)
{
    double sum_kg = 0;
    if (!piece->has_setter)
        return 0;
    ks_stage stage = piece->setter.stage_told ? piece->setter.stage : piece->stage;
    int clay = piece->setter.clay >= 0 ? piece->setter.clay : piece->clay;
    for (int i = 0; i < placed->n_parts; i++) {
        const ks_part *part = &placed->parts[i];
        bool grog = part->kind == KS_PART_GROG;
        if (!grog && part->kind != KS_PART_SLAB && part->kind != KS_PART_COOKIE)
            continue;
        double kg =
            fmin(part_kg(part, grog ? GROG_KG_L : RAW_SLAB_KG_L), 0.9 * piece->mass_kg - sum_kg);
        ks_ware_heat slab =
            ks_ware_of_mass(kg, grog ? KS_FIRED : stage, loss_of(plan->order, clay));
        ks_ware_add(ware, &slab, 1);
        sum_kg += kg;
    }
    return sum_kg;
}

#define CONE_PACK_KG 0.03 /* three cones in their clay; common practice */

static ks_ware_heat place_ware_of(const ks_plan *plan, const ks_placed *placed)
{
    ks_ware_heat ware = {0};
    double plan_mm2 = 0;
    if (placed->piece < 0) {
        ks_ware_heat cones = ks_ware_of_mass(CONE_PACK_KG, KS_DRY, 0.07);
        ks_ware_add(&ware, &cones, 1);
    } else {
        const ks_piece *piece = &plan->order->pieces[placed->piece];
        double setter_kg = add_setter(plan, placed, piece, &ware);
        ks_ware_heat body = ks_ware_of_mass(piece->mass_kg - setter_kg, piece->stage,
                                            loss_of(plan->order, piece->clay));
        ks_ware_add(&ware, &body, 1);
        plan_mm2 = piece->area_mm2;
        ware.wall_kg_m = piece->wall_mm * M_PER_MM * ware.fired_kg;
    }
    for (int i = 0; i < placed->n_parts && plan_mm2 == 0; i++)
        plan_mm2 = fmax(plan_mm2, ks_outline_area(&placed->parts[i].outline));
    ware.plan_m2 = plan_mm2 * M2_PER_MM2;
    ware.upright_m2 = sqrt(ware.plan_m2 * 4 / 3.14159265358979) * placed->top_mm * M_PER_MM;
    return ware;
}

static void put_ware(const ks_plan *plan, const ks_load *load, double weight, ks_load_level *out)
{
    const ks_level *level = &load->levels[out->level];
    for (int i = 0; i < level->n_pieces; i++) {
        ks_ware_heat ware = place_ware_of(plan, &level->pieces[i]);
        bool edge = ks_stands_at_edge(load, level, level->pieces[i].stand);
        ks_ware_add(edge ? &out->edge : &out->middle, &ware, weight);
    }
}

static double shelf_kg(const ks_kiln *kiln, const ks_shelf *shelf, const char **material,
                       const ks_materials *materials)
{
    const ks_shelf_kind *kind = shelf->kind >= 0 && kiln ? &kiln->shelves[shelf->kind] : NULL;
    *material = kind && kind->material ? kind->material : "cordierite";
    if (kind && kind->mass_kg > 0)
        return kind->mass_kg;
    const ks_fire_material *row = ks_material_find(materials, *material);
    return ks_outline_area(&shelf->outline) * shelf->thickness_mm * 1e-9 *
           (row ? row->density_kg_m3 : KS_CORDIERITE_KG_M3);
}

static void put_shelves(const ks_kiln *kiln, const ks_load *load, const ks_materials *materials,
                        ks_load_level *out, ks_arena *arena)
{
    const ks_level *level = &load->levels[out->level];
    for (int i = 0; i < level->n_shelves; i++) {
        const char *material;
        double kg = shelf_kg(kiln, &level->shelves[i], &material, materials);
        ks_level_furniture(out, material, kg, arena);
        out->shelf_m2 += ks_outline_area(&level->shelves[i].outline) * M2_PER_MM2;
        out->shelf_thickness_m =
            fmax(out->shelf_thickness_m, level->shelves[i].thickness_mm * M_PER_MM);
    }
}

/* Of the stock where a height is listed, else by its volume. */
static double post_kg(const ks_kiln *kiln, const ks_post *post)
{
    double sum_kg = 0;
    double area_mm2 = ks_outline_area(&post->outline);
    for (int i = 0; i < post->n_heights; i++) {
        double kg = area_mm2 * post->heights_mm[i] * 1e-6 * 2.0;
        for (int k = 0; kiln && k < kiln->n_posts; k++)
            if (fabs(kiln->posts[k].height_mm - post->heights_mm[i]) < 0.5 &&
                kiln->posts[k].mass_kg > 0)
                kg = kiln->posts[k].mass_kg;
        sum_kg += kg;
    }
    return sum_kg;
}

/* To the highest level whose shelf is not above the post's foot by more than a hand. */
static void put_posts(const ks_kiln *kiln, const ks_load *load, ks_heat_load *out, ks_arena *arena)
{
    for (int i = 0; i < load->n_posts && out->n > 0; i++) {
        int under = 0;
        for (int k = 1; k < out->n; k++)
            if (out->levels[k].from_m <= load->posts[i].from_mm * M_PER_MM)
                under = k;
        ks_level_furniture(&out->levels[under], "cordierite", post_kg(kiln, &load->posts[i]),
                           arena);
    }
}

static const ks_outline *bay_outline(const ks_load *load, const char *bay)
{
    for (int i = 0; i < load->n_bays; i++)
        if (strcmp(load->bays[i].id, bay) == 0)
            return &load->bays[i].outline;
    return NULL;
}

#define MEET_M 0.01

/* Fills what a level's neighbours decide: bottom, top, share, and which stands over which. */
static void relate_levels(const ks_load *load, ks_heat_load *out)
{
    for (int i = 0; i < out->n; i++) {
        ks_load_level *here = &out->levels[i];
        const char *bay = load->levels[here->level].bay;
        double middle_m = 0.5 * (here->from_m + here->to_m), beside_m2 = 0;
        here->bottom = here->top = true;
        for (int k = 0; k < out->n; k++) {
            const ks_load_level *other = &out->levels[k];
            const char *its = load->levels[other->level].bay;
            const ks_outline *ground = bay_outline(load, its);
            bool same_ground = ks_bays_overlap(load, bay, its);
            if (ground && other->from_m <= middle_m && middle_m < other->to_m)
                beside_m2 += ks_outline_area(ground);
            here->bottom = here->bottom && !(same_ground && other->from_m < here->from_m);
            here->top = here->top && !(same_ground && other->from_m > here->from_m);
            out->over[i * out->n + k] =
                same_ground && k != i && fabs(other->from_m - here->to_m) < MEET_M;
        }
        const ks_outline *own = bay_outline(load, bay);
        here->share = own && beside_m2 > 0 ? ks_outline_area(own) / beside_m2 : 1;
    }
}

static void close_ends(ks_heat_load *out)
{
    for (int i = 0; i < out->n; i++) {
        ks_load_level *level = &out->levels[i];
        if (level->bottom)
            level->from_m = 0;
        if (level->top)
            level->to_m = out->height_m;
        level->to_m = fmax(level->to_m, level->from_m + 0.01);
    }
}

static double shelf_bottom_mm(const ks_level *level)
{
    double thickest = 0;
    for (int i = 0; i < level->n_shelves; i++)
        thickest = fmax(thickest, level->shelves[i].thickness_mm);
    return level->z_mm - thickest;
}

/* Puts level k of the load in its place, from below. */
static void insert_level(const ks_load *load, int k, ks_heat_load *out)
{
    double from_m = shelf_bottom_mm(&load->levels[k]) * M_PER_MM;
    int i = out->n++;
    for (; i > 0 && out->levels[i - 1].from_m > from_m; i--)
        out->levels[i] = out->levels[i - 1];
    double to_mm = load->levels[k].z_mm + load->levels[k].gap_mm;
    out->levels[i] = (ks_load_level){.level = k, .from_m = from_m, .to_m = to_mm * M_PER_MM};
}

/* A chamber with nothing in it is one level of its own. */
static void one_empty_level(ks_heat_load *out)
{
    out->n = 1;
    out->levels[0] = (ks_load_level){
        .level = -1, .to_m = out->height_m, .share = 1, .bottom = true, .top = true};
}

void ks_heat_load_of_plan(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                          ks_heat_load *out)
{
    const ks_load *load = &plan->loads[options->load];
    const ks_kiln *kiln = load->kiln >= 0 ? &plan->order->kilns[load->kiln] : NULL;
    int room = load->n_levels > 0 ? load->n_levels : 1;
    *out = (ks_heat_load){.levels = KS_TAKE(arena, room, ks_load_level),
                          .over = KS_TAKE(arena, room * room, bool)};
    ks_heat_load_chamber(load->n_parts, load->parts, out);
    for (int k = 0; k < load->n_levels; k++)
        insert_level(load, k, out);
    relate_levels(load, out);
    for (int i = 0; i < out->n; i++) {
        put_ware(plan, load, options->ware_fraction, &out->levels[i]);
        put_shelves(kiln, load, options->materials, &out->levels[i], arena);
    }
    put_posts(kiln, load, out, arena);
    close_ends(out);
    if (out->n == 0)
        one_empty_level(out);
}
