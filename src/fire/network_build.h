/* network_build.h: a kiln and its load as a network that can be stepped. */
#ifndef KILNSTOW_FIRE_NETWORK_BUILD_H
#define KILNSTOW_FIRE_NETWORK_BUILD_H

#include "fire/physics/gas.h"
#include "fire/load.h"

enum { ASSUMED_MOST = 16 };

/* Factors by which the truth may differ from what was told; all 1 (and 0) for the estimate itself.
 */
typedef struct {
    double conductance; /* of linings */
    double store;       /* what linings hold */
    double ware, furniture;
    double air;   /* drawn through and leaking */
    double power; /* of the heaters */
    double end_k; /* added to the temperature the schedule ends at */
} ks_slant;
ks_slant ks_slant_none(void);

/* A kiln as it is fired, its gaps filled. */
typedef struct {
    ks_heat heat;
    double supply_w;     /* all heaters together at this voltage and age; gas: fuel, HHV */
    const ks_fuel *fuel; /* NULL = electric */
    int n_sensors;
    double *sensors_m; /* heights */
    int n_assumed;
    const char *assumed[ASSUMED_MOST];
} ks_fired_kiln;

/* Fills what the kiln's file leaves out, by its size and power, and notes it. */
ks_status ks_fired_kiln_of(const ks_kiln *kiln, const ks_heat_load *load,
                           const ks_fire_options *options, ks_arena *arena, ks_fired_kiln *out,
                           ks_error *err);

/* Places of a level's nodes in the network, -1 = it has none. */
typedef struct {
    int face, edge, middle, air, shelf;
} ks_level_nodes;

typedef struct {
    ks_network net;
    int n_levels, floor, lid; /* hot faces */
    ks_level_nodes *levels;
    double *air_share; /* by level: of the room air that comes in */
    bool by_zone;      /* each zone has a loop of its own, in the order of the kiln's zones */
} ks_fired_model;

/* All that a model is made from. */
typedef struct {
    const ks_fired_kiln *kiln;
    const ks_heat_load *load;
    const ks_fire_options *options;
    ks_slant slant;
} ks_model_parts;

/* So much room air comes in from now on. */
void ks_fired_model_air(ks_fired_model *model, double m3_h);

ks_status ks_fired_model_of(const ks_model_parts *parts, ks_arena *arena, ks_fired_model *out,
                            ks_error *err);

#define PI 3.14159265358979323846

/* A model in the making, passed between the files that make its parts. */
typedef struct {
    const ks_model_parts *parts;
    ks_arena *arena;
    ks_fired_model *model;
    ks_error *err;
    int links_room;
} ks_network_builder;

/* Links all nodes by who sees whom. */
void ks_builder_link(ks_network_builder *b);

/* Shares out power, air and thermocouples. */
void ks_builder_supply(ks_network_builder *b);

/* A material's heat by temperature; cordierite's for one that is not in the table. */
const ks_temp_curve *ks_builder_heat(ks_network_builder *b, const char *material);

#endif
