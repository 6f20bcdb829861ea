/* load.h: a load as heat sees it: kilograms, surfaces and chemistry by level. */
#ifndef KILNSTOW_FIRE_LOAD_H
#define KILNSTOW_FIRE_LOAD_H

#include "fire/physics/network.h"

#include "kilnstow/fire.h"

/* What ware brings, by the sum of its pieces. */
typedef struct {
    double fired_kg;     /* what is left of it at the end */
    double water_kg;     /* free water */
    double hydroxyl_kg;  /* water of the clay itself */
    double carbonate_kg; /* carbon dioxide given off */
    double carbon_kg;    /* organic */
    double wall_kg_m;    /* thickness of walls, summed by mass */
    double raw_fired_kg; /* of fired_kg, what entered unfired */
    double plan_m2;      /* area seen from above */
    double upright_m2;   /* silhouette: breadth x height, summed */
} ks_ware_heat;

typedef struct {
    int level;           /* into load.levels */
    double from_m, to_m; /* wall it faces: from under its shelf to under the next */
    double share;        /* of the chamber's cross-section that its bay has */
    bool bottom, top;    /* of its bay */
    ks_ware_heat edge, middle;
    double shelf_m2;
    double shelf_thickness_m;
    int n_furniture, furniture_room;
    struct ks_furniture_kg {
        const char *material;
        double kg;
    } * furniture; /* by material */
} ks_load_level;

typedef struct {
    double area_m2, perimeter_m, height_m; /* chamber: area seen from above, mean perimeter */
    double corners; /* what the wall's upright corners conduct beyond its flat faces, W/K per W/(m
                       K) and metre of height; see ks_corners */
    double volume_m3;
    int n;
    ks_load_level *levels; /* from below */
    bool *over;            /* n x n: over[i x n + k] = k stands directly over i */
} ks_heat_load;

/* A body by its stage: what becomes of `kg` of it as it enters the kiln. */
ks_ware_heat ks_ware_of_mass(double kg, ks_stage stage, double loss_on_ignition);
void ks_ware_add(ks_ware_heat *to, const ks_ware_heat *more, double weight);

/* Joules that each change takes up: see docs/firing.md. Free water comes first. */
ks_chemistry ks_ware_chemistry(const ks_ware_heat *ware);

void ks_level_furniture(ks_load_level *level, const char *material, double kg, ks_arena *arena);
double ks_level_furniture_kg(const ks_load_level *level);

/* What the corners of an outline conduct, W/K per W/(m K) and metre of height, whatever the wall's
 * thickness: half a turn (pi) for a round wall, 2.24 for a square's four corners. */
double ks_corners(const ks_outline *outline);

/* Whether a piece of the level counts as edge ware: in the outer ring of the chamber. */
bool ks_stands_at_edge(const ks_load *load, const ks_level *level, ks_stand stand);

/* Measures of a chamber from its parts. */
void ks_heat_load_chamber(int n_parts, const ks_chamber_part *parts, ks_heat_load *out);

void ks_heat_load_of_plan(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                          ks_heat_load *out);
void ks_heat_load_of_bulk(const ks_kiln *kiln, const ks_bulk_load *bulk,
                          const ks_fire_options *options, ks_arena *arena, ks_heat_load *out);

#endif
