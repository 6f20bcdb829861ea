/* materials.h: what linings, furniture and ware are made of, with the source of every figure. */
#ifndef KILNSTOW_MATERIALS_H
#define KILNSTOW_MATERIALS_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stdbool.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct {
    double temp_c, value;
} ks_property_point;

/* A property by temperature: straight between its points, and on with the last slope beyond them,
 * but never below half its least point. */
typedef struct {
    int n;
    const ks_property_point *points;
    const char *source;
} ks_property;

typedef enum { KS_LINING, KS_FURNITURE, KS_WARE_BODY, KS_METAL } ks_material_use;

typedef struct {
    const char *name; /* as kiln files write it */
    ks_material_use use;
    ks_property conductivity; /* W/(m K), at the mean temperature of a thin slice */
    ks_property heat;         /* J/(kg K) */
    double density_kg_m3;
    const char *density_source;
    double emissivity;
    const char *emissivity_source;
    double limit_c; /* hot face or use limit, 0 = not told */
    const char *limit_source;
} ks_fire_material;

typedef struct {
    int count;
    const ks_fire_material *rows;
} ks_materials;

/* Those that come with the program; nobody frees them. */
const ks_materials *ks_materials_built_in(void);

/* NULL if there is none of that name; letter case and runs of spaces do not matter. */
const ks_fire_material *ks_material_find(const ks_materials *materials, const char *name);

/* Those built in and those of the user's file, which win over built-in ones of the same name. */
ks_status ks_materials_read(const char *path, ks_arena *arena, ks_materials *out, ks_error *err);

/* A property at a temperature, in its own unit: straight between and beyond the points of its
 * table, never under half its least value; 0 without a table. */
double ks_property_at(const ks_property *property, double temp_c);

#ifdef __cplusplus
}
#endif

#endif
