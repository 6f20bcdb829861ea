#include "fire/builder.h"

#include <math.h>

#define WIRE_KG_PER_KW 0.35 /* common practice, no source */

static double height_part(double from_m, double to_m, const ks_load_level *level)
{
    double common_m = fmin(to_m, level->to_m) - fmax(from_m, level->from_m);
    return common_m <= 0 ? 0 : common_m / (to_m - from_m) * level->share;
}

static void share_zones(ks_builder *b)
{
    ks_fired_model *model = b->model;
    const ks_heat *heat = &b->parts->kiln->heat;
    const ks_heat_load *load = b->parts->load;
    model->n_zones = heat->n_zones < ZONES_MOST ? heat->n_zones : ZONES_MOST;
    model->zone_part = KS_TAKE(b->arena, load->n * model->n_zones, double);
    double weights[ZONES_MOST], sum = 0;
    for (int z = 0; z < model->n_zones; z++) {
        double met = 0;
        for (int i = 0; i < load->n; i++)
            met += height_part(heat->zones[z].from_mm * 1e-3, heat->zones[z].to_mm * 1e-3,
                               &load->levels[i]);
        for (int i = 0; i < load->n; i++)
            model->zone_part[i * model->n_zones + z] =
                met > 0 ? height_part(heat->zones[z].from_mm * 1e-3, heat->zones[z].to_mm * 1e-3,
                                      &load->levels[i]) /
                              met
                        : 1.0 / load->n;
        weights[z] = heat->zones[z].share > 0 ? heat->zones[z].share : 0;
        sum += weights[z];
    }
    for (int z = 0; z < model->n_zones; z++)
        weights[z] = sum > 0 ? weights[z] / sum : 1.0 / model->n_zones;
    ks_fired_model_share(model, weights);
}

void ks_fired_model_share(ks_fired_model *model, const double *zone_weights)
{
    for (int i = 0; i < model->n_levels; i++) {
        double share = 0;
        for (int z = 0; z < model->n_zones; z++)
            share += zone_weights[z] * model->zone_part[i * model->n_zones + z];
        model->net.nodes[model->levels[i].air].share = share;
    }
}

static double level_part(const ks_heat_load *load, int i)
{
    return (load->levels[i].to_m - load->levels[i].from_m) * load->levels[i].share;
}

static void spread_air(ks_builder *b)
{
    const ks_heat_load *load = b->parts->load;
    const ks_heat *heat = &b->parts->kiln->heat;
    double kg_s =
        (heat->vent_m3_h + heat->leak_m3_h) * b->parts->slant.air * AIR_DENSITY_20C / 3600;
    double sum = 0;
    for (int i = 0; i < load->n; i++)
        sum += level_part(load, i);
    for (int i = 0; i < load->n; i++)
        b->model->net.nodes[b->model->levels[i].air].air_kg_s = kg_s * level_part(load, i) / sum;
}

static double senses(const ks_fired_kiln *kiln, const ks_load_level *level)
{
    double sum = kiln->n_sensors == 0 ? (level->to_m - level->from_m) * level->share : 0;
    for (int s = 0; s < kiln->n_sensors; s++)
        if (kiln->sensors_m[s] >= level->from_m && kiln->sensors_m[s] < level->to_m)
            sum += level->share;
    return sum;
}

static void place_sensors(ks_builder *b)
{
    const ks_heat_load *load = b->parts->load;
    double sum = 0;
    for (int i = 0; i < load->n; i++)
        sum += senses(b->parts->kiln, &load->levels[i]);
    for (int i = 0; i < load->n; i++)
        b->model->net.nodes[b->model->levels[i].air].sense =
            sum > 0 ? senses(b->parts->kiln, &load->levels[i]) / sum : 1.0 / load->n;
}

/* The wire's own mass goes with the wall it lies in. */
static void add_wire(ks_builder *b)
{
    const ks_temp_curve *wire = ks_builder_heat(b, "heating wire");
    for (int i = 0; i < b->parts->load->n && !b->parts->kiln->fuel; i++) {
        const ks_level_nodes *nodes = &b->model->levels[i];
        ks_temp_curve *store = KS_TAKE(b->arena, 1, ks_temp_curve);
        double kw = b->parts->kiln->heat.rated_kw * b->model->net.nodes[nodes->air].share;
        ks_temp_curve_add(store, WIRE_KG_PER_KW * kw, wire);
        b->model->net.nodes[nodes->face].store = store;
    }
}

void ks_builder_supply(ks_builder *b)
{
    share_zones(b);
    spread_air(b);
    place_sensors(b);
    add_wire(b);
}
