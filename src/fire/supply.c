#include "fire/network_build.h"

#include <math.h>

#define WIRE_KG_PER_KW 0.35 /* common practice, no source */

/* Of a coil's heat, what leaves its groove without warming the brick first. A cylinder in a groove
 * 1.5 to 2 times as wide, its front level with the wall or a quarter of its width behind it: 0.59
 * to 0.70 by its view of the opening and the groove's brick as a reradiating surface (Hottel;
 * Incropera & DeWitt, ch. 13, from memory). The rest is the wall's own radiation: walls with
 * heaters are hotter than what the thermocouple reads. */
#define COIL_STRAIGHT_OUT 0.65

static double height_part(double from_m, double to_m, const ks_load_level *level)
{
    double common_m = fmin(to_m, level->to_m) - fmax(from_m, level->from_m);
    return common_m <= 0 ? 0 : common_m / (to_m - from_m) * level->share;
}

/* Part of a zone's power that goes to each level; all alike where it meets none. */
static void zone_parts(const ks_heat_load *load, const ks_zone *zone, double *parts)
{
    double met = 0;
    for (int i = 0; i < load->n; i++)
        met += parts[i] = height_part(zone->from_mm * 1e-3, zone->to_mm * 1e-3, &load->levels[i]);
    for (int i = 0; i < load->n; i++)
        parts[i] = met > 0 ? parts[i] / met : 1.0 / load->n;
}

static double level_part(const ks_heat_load *load, int i)
{
    return (load->levels[i].to_m - load->levels[i].from_m) * load->levels[i].share;
}

static void spread_air(ks_network_builder *b)
{
    const ks_heat_load *load = b->parts->load;
    double sum = 0;
    b->model->air_share = KS_TAKE(b->arena, load->n, double);
    for (int i = 0; i < load->n; i++)
        sum += level_part(load, i);
    for (int i = 0; i < load->n; i++)
        b->model->air_share[i] = level_part(load, i) / sum;
    ks_fired_model_air(b->model, 0);
}

void ks_fired_model_air(ks_fired_model *model, double m3_h)
{
    for (int i = 0; i < model->n_levels; i++)
        model->net.nodes[model->levels[i].air].air_kg_s =
            m3_h * AIR_DENSITY_20C / 3600 * model->air_share[i];
}

/* Adds what a thermocouple at this height reads. */
static void add_sensor(ks_network_builder *b, ks_loop *loop, double height_m, double weight)
{
    const ks_heat_load *load = b->parts->load;
    double met = 0;
    for (int pass = 0; pass < 2; pass++)
        for (int i = 0; i < load->n; i++) {
            const ks_load_level *level = &load->levels[i];
            if (!(height_m >= level->from_m && height_m < level->to_m))
                continue;
            if (pass == 0)
                met += level->share;
            else
                loop->sense[b->model->levels[i].air] += weight * level->share / met;
        }
    for (int i = 0; i < load->n && met == 0; i++)
        loop->sense[b->model->levels[i].air] += weight / load->n;
}

static double middle_m(const ks_zone *zone)
{
    return 0.5e-3 * (zone->from_mm + zone->to_mm);
}

/* A zone is steered by the thermocouples within it, or by the nearest. */
static void sense_zone(ks_network_builder *b, const ks_zone *zone, ks_loop *loop)
{
    const ks_fired_kiln *kiln = b->parts->kiln;
    int within = 0, nearest = 0;
    for (int s = 0; s < kiln->n_sensors; s++) {
        double mm = 1000 * kiln->sensors_m[s];
        within += mm >= zone->from_mm && mm < zone->to_mm;
        if (fabs(kiln->sensors_m[s] - middle_m(zone)) <
            fabs(kiln->sensors_m[nearest] - middle_m(zone)))
            nearest = s;
    }
    for (int s = 0; s < kiln->n_sensors && within > 0; s++) {
        double mm = 1000 * kiln->sensors_m[s];
        if (mm >= zone->from_mm && mm < zone->to_mm)
            add_sensor(b, loop, kiln->sensors_m[s], 1.0 / within);
    }
    if (within == 0)
        add_sensor(b, loop, kiln->sensors_m[nearest], 1);
}

/* One loop for all: the mean of the thermocouples, or of the chamber where none is told. */
static void sense_all(ks_network_builder *b, ks_loop *loop)
{
    const ks_heat_load *load = b->parts->load;
    double sum = 0;
    for (int s = 0; s < b->parts->kiln->n_sensors; s++)
        add_sensor(b, loop, b->parts->kiln->sensors_m[s], 1.0 / b->parts->kiln->n_sensors);
    if (b->parts->kiln->n_sensors > 0)
        return;
    for (int i = 0; i < load->n; i++)
        sum += level_part(load, i);
    for (int i = 0; i < load->n; i++)
        loop->sense[b->model->levels[i].air] = level_part(load, i) / sum;
}

/* A zone's heat on level i: a flame's is the chamber's, a coil's in part the wall's it lies in. */
static void heat_level(ks_network_builder *b, ks_loop *loop, int i, double part)
{
    const ks_level_nodes *nodes = &b->model->levels[i];
    double straight = b->parts->kiln->fuel ? 1 : COIL_STRAIGHT_OUT;
    loop->share[nodes->air] += straight * part;
    loop->share[nodes->face] += (1 - straight) * part;
}

static void add_loops(ks_network_builder *b)
{
    const ks_heat *heat = &b->parts->kiln->heat;
    ks_network *net = &b->model->net;
    int n = heat->n_zones, levels = b->parts->load->n;
    double sum = 0, *parts = KS_TAKE(b->arena, levels, double);
    b->model->by_zone =
        !b->parts->kiln->fuel && n >= 2 && n <= LOOPS_MOST && b->parts->kiln->n_sensors >= 2;
    net->n_loops = b->model->by_zone ? n : 1;
    net->loops = KS_TAKE(b->arena, net->n_loops, ks_loop);
    for (int z = 0; z < net->n_loops; z++)
        net->loops[z] = (ks_loop){.share = KS_TAKE(b->arena, net->n_nodes, double),
                                  .sense = KS_TAKE(b->arena, net->n_nodes, double)};
    for (int z = 0; z < n; z++)
        sum += fmax(heat->zones[z].share, 0);
    for (int z = 0; z < n; z++) {
        ks_loop *loop = &net->loops[b->model->by_zone ? z : 0];
        double part = sum > 0 ? fmax(heat->zones[z].share, 0) / sum : 1.0 / n;
        zone_parts(b->parts->load, &heat->zones[z], parts);
        loop->part += part;
        for (int i = 0; i < levels; i++)
            heat_level(b, loop, i, (b->model->by_zone ? 1 : part) * parts[i]);
        if (b->model->by_zone)
            sense_zone(b, &heat->zones[z], loop);
    }
    if (!b->model->by_zone)
        sense_all(b, &net->loops[0]);
}

static double rated_share(const ks_network *net, const ks_level_nodes *nodes)
{
    double sum = 0;
    for (int z = 0; z < net->n_loops; z++)
        sum += net->loops[z].part *
               (net->loops[z].share[nodes->air] + net->loops[z].share[nodes->face]);
    return sum;
}

/* The wire's own mass goes with the wall it lies in. */
static void add_wire(ks_network_builder *b)
{
    const ks_temp_curve *wire = ks_builder_heat(b, "heating wire");
    for (int i = 0; i < b->parts->load->n && !b->parts->kiln->fuel; i++) {
        const ks_level_nodes *nodes = &b->model->levels[i];
        ks_temp_curve *store = KS_TAKE(b->arena, 1, ks_temp_curve);
        double kw = b->parts->kiln->heat.rated_kw * rated_share(&b->model->net, nodes);
        ks_temp_curve_add(store, WIRE_KG_PER_KW * kw, wire);
        b->model->net.nodes[nodes->face].store = store;
    }
}

void ks_builder_supply(ks_network_builder *b)
{
    spread_air(b);
    add_loops(b);
    add_wire(b);
}
