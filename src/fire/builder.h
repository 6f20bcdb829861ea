/* builder.h: a model in the making, passed between the files that make its parts. */
#ifndef KILNSTOW_FIRE_BUILDER_H
#define KILNSTOW_FIRE_BUILDER_H

#include "fire/network_build.h"

#define PI 3.14159265358979323846

typedef struct {
    const ks_model_parts *parts;
    ks_arena *arena;
    ks_fired_model *model;
    ks_error *err;
    int links_room;
} ks_builder;

/* Links all nodes by who sees whom. */
void ks_builder_link(ks_builder *b);

/* Shares out power, air and thermocouples. */
void ks_builder_supply(ks_builder *b);

/* A material's heat by temperature; cordierite's for one that is not in the table. */
const ks_temp_curve *ks_builder_heat(ks_builder *b, const char *material);

#endif
