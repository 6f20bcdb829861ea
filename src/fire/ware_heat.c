#include "fire/load.h"

#include <math.h>
#include <string.h>

/* Heats of the changes, J/kg. */
#define WATER_AWAY 2.59e6      /* from 20 C to steam at 100 C: steam tables, from memory */
#define KAOLINITE_WATER 0.1396 /* of its mass: its formula */
#define DEHYDROXYLATION 0.9e6  /* of kaolinite; 0.6-1.1 reported, from memory */
#define MULLITE_GIVES -0.327e6 /* of kaolinite: brings the net heat to 573 kJ/kg by enthalpies */
#define HYDROXYL_HEAT 2950.0   /* J/(kg K) of the clay's own water while it is there */
#define LIME_CARBON_DIOXIDE 4.05e6 /* of CO2: 1781 kJ/kg of CaCO3 that loses 43.97 % */
#define CARBON_GIVES -32.8e6

#define ORGANIC_CARBON 0.003     /* of dry raw clay; common practice, no source */
#define LARGEST_OF_HYDROXYL 0.08 /* a loss beyond this is taken for carbonate */

/* Free water, as a fraction of what enters; leather-hard and the rest common practice. */
static double water_fraction(ks_stage stage)
{
    switch (stage) {
    case KS_LEATHER:
        return 0.15;
    case KS_DRY:
        return 0.01;
    case KS_BISQUE:
        return 0.003;
    case KS_GLAZED:
        return 0.005;
    case KS_FIRED:
        return 0.001;
    }
    return 0;
}

ks_ware_heat ks_ware_of_mass(double kg, ks_stage stage, double loss_on_ignition)
{
    ks_ware_heat ware = {.water_kg = kg * water_fraction(stage)};
    double dry_kg = kg - ware.water_kg;
    if (stage != KS_LEATHER && stage != KS_DRY) {
        ware.fired_kg = dry_kg;
        return ware;
    }
    double loss = fmin(fmax(loss_on_ignition, 0), 0.4);
    double carbon = fmin(ORGANIC_CARBON, loss);
    double hydroxyl = fmin(loss - carbon, LARGEST_OF_HYDROXYL);
    ware.carbon_kg = carbon * dry_kg;
    ware.hydroxyl_kg = hydroxyl * dry_kg;
    ware.carbonate_kg = (loss - carbon - hydroxyl) * dry_kg;
    ware.raw_fired_kg = ware.fired_kg = (1 - loss) * dry_kg;
    return ware;
}

void ks_ware_add(ks_ware_heat *to, const ks_ware_heat *more, double weight)
{
    to->fired_kg += weight * more->fired_kg;
    to->water_kg += weight * more->water_kg;
    to->hydroxyl_kg += weight * more->hydroxyl_kg;
    to->carbonate_kg += weight * more->carbonate_kg;
    to->carbon_kg += weight * more->carbon_kg;
    to->wall_kg_m += weight * more->wall_kg_m;
    to->raw_fired_kg += weight * more->raw_fired_kg;
    to->plan_m2 += weight * more->plan_m2;
    to->upright_m2 += weight * more->upright_m2;
}

ks_chemistry ks_ware_chemistry(const ks_ware_heat *ware)
{
    double kaolinite_kg = ware->hydroxyl_kg / KAOLINITE_WATER;
    return (ks_chemistry){.n = 6,
                          .changes = {{ware->water_kg * WATER_AWAY, 35, 120},
                                      {ware->hydroxyl_kg * HYDROXYL_HEAT * 530, 20, 550},
                                      {kaolinite_kg * DEHYDROXYLATION, 450, 650},
                                      {ware->carbonate_kg * LIME_CARBON_DIOXIDE, 600, 900},
                                      {ware->carbon_kg * CARBON_GIVES, 300, 850},
                                      {kaolinite_kg * MULLITE_GIVES, 920, 1080}}};
}

void ks_level_furniture(ks_load_level *level, const char *material, double kg, ks_arena *arena)
{
    for (int i = 0; i < level->n_furniture; i++)
        if (strcmp(level->furniture[i].material, material) == 0) {
            level->furniture[i].kg += kg;
            return;
        }
    level->furniture = KS_GROW(arena, level->furniture, level->n_furniture, &level->furniture_room,
                               struct ks_furniture_kg);
    level->furniture[level->n_furniture++] = (struct ks_furniture_kg){material, kg};
}

double ks_level_furniture_kg(const ks_load_level *level)
{
    double sum = 0;
    for (int i = 0; i < level->n_furniture; i++)
        sum += level->furniture[i].kg;
    return sum;
}
