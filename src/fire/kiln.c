#include "fire/network_build.h"

#include <math.h>
#include <string.h>

ks_slant ks_slant_none(void)
{
    return (ks_slant){1, 1, 1, 1, 1, 1, 0};
}

static void assume(ks_fired_kiln *kiln, const char *text)
{
    if (kiln->n_assumed < ASSUMED_MOST)
        kiln->assumed[kiln->n_assumed++] = text;
}

static double wall_m2(const ks_heat_load *load)
{
    return load->perimeter_m * load->height_m;
}

#define USUAL_W_PER_M2 0.95e4 /* of inner wall; 0.6-1.3 W/cm2 are built, from memory */

static void fill_power(const ks_heat_load *load, ks_arena *arena, ks_fired_kiln *out)
{
    ks_heat *heat = &out->heat;
    if (heat->rated_kw > 0)
        return;
    double per_m2 = heat->kind == KS_GAS ? 130e3 * load->volume_m3 / wall_m2(load) : USUAL_W_PER_M2;
    heat->rated_kw = per_m2 * wall_m2(load) / 1000;
    assume(out, ks_arena_print(arena, "power: %.1f kW, usual for its size", heat->rated_kw));
}

/* Hot kilns and strong ones are built with thicker walls. */
static void fill_wall(const ks_heat_load *load, ks_arena *arena, ks_fired_kiln *out)
{
    ks_heat *heat = &out->heat;
    bool strong = heat->rated_kw * 1000 / wall_m2(load) > 0.9e4 || heat->top_temp_c > 1290;
    bool gas = heat->kind == KS_GAS;
    double thick_mm = gas ? 230 : strong ? 76 : 64;
    ks_layer *layer = KS_TAKE(arena, 1, ks_layer);
    *layer = (ks_layer){gas ? "IFB 26" : "IFB 23", thick_mm};
    heat->wall = (ks_lining){1, layer};
    assume(out, ks_arena_print(arena, "wall: %.0f mm of %s, by its size and power", thick_mm,
                               layer->material));
}

static void fill_lining(const ks_heat_load *load, ks_arena *arena, ks_fired_kiln *out)
{
    ks_heat *heat = &out->heat;
    if (heat->wall.n_layers == 0)
        fill_wall(load, arena, out);
    if (heat->lid.n_layers == 0) {
        heat->lid = heat->wall;
        assume(out, "lid: lined as the wall");
    }
    if (heat->floor.n_layers == 0) {
        heat->floor = heat->wall;
        assume(out, "floor: lined as the wall");
    }
}

#define CRACKS_M3_H 0.5 /* a square centimetre of cracks under the draught of a hot chamber */

static void fill_air(ks_fired_kiln *out)
{
    ks_heat *heat = &out->heat;
    if (!(heat->leak_m3_h > 0)) {
        heat->leak_m3_h = CRACKS_M3_H;
        assume(out, "leakage: 0.5 m3/h, one square centimetre of cracks by the chamber's draught");
    }
    if (!(heat->casing_emissivity > 0)) {
        heat->casing_emissivity = heat->kind == KS_GAS ? 0.8 : 0.4;
        assume(out, "casing: emissivity of weathered steel");
    }
    if (heat->kind == KS_GAS)
        assume(
            out,
            "room air comes into the chamber only after the burners are off: as they burn, their "
            "excess air is all there is");
    if (heat->kind == KS_GAS && !(heat->excess_air > 0)) {
        heat->excess_air = 0.25;
        assume(out, "burners: 25 % of excess air");
    }
}

static void fill_zones(const ks_heat_load *load, ks_arena *arena, ks_heat *heat)
{
    if (heat->n_zones > 0)
        return;
    heat->n_zones = 1;
    heat->zones = KS_TAKE(arena, 1, ks_zone);
    heat->zones[0] = (ks_zone){0, load->height_m * 1000, 1};
}

static void find_sensors(const ks_kiln *kiln, ks_arena *arena, ks_fired_kiln *out)
{
    out->sensors_m = KS_TAKE(arena, kiln->n_keep_outs, double);
    for (int i = 0; i < kiln->n_keep_outs; i++) {
        const ks_keep_out *box = &kiln->keep_outs[i];
        if (box->kind && strcmp(box->kind, "sensor") == 0)
            out->sensors_m[out->n_sensors++] = 0.5e-3 * (box->from_mm + box->to_mm);
    }
}

/* P = V^2 / R; worn elements have more resistance. */
static double supply_w(const ks_heat *heat, const ks_fire_options *options)
{
    double volts = options->volts > 0       ? options->volts
                   : heat->supply_volts > 0 ? heat->supply_volts
                                            : heat->rated_volts;
    double part = heat->kind == KS_ELECTRIC && heat->rated_volts > 0 && volts > 0
                      ? volts * volts / (heat->rated_volts * heat->rated_volts)
                      : 1;
    double worn = heat->kind == KS_ELECTRIC ? options->elements_worn : 0;
    return heat->rated_kw * 1000 * part / (1 + worn);
}

ks_status ks_fired_kiln_of(const ks_kiln *kiln, const ks_heat_load *load,
                           const ks_fire_options *options, ks_arena *arena, ks_fired_kiln *out,
                           ks_error *err)
{
    *out = (ks_fired_kiln){.heat = kiln->heat};
    if (out->heat.kind == KS_GAS) {
        const char *fuel = out->heat.fuel && *out->heat.fuel ? out->heat.fuel : "natural gas";
        out->fuel = ks_fuel_find(fuel);
        if (!out->fuel)
            return ks_fail(err, KS_BAD_INPUT,
                           "kiln %s: fuel: must be \"natural gas\" or \"propane\", not \"%s\"",
                           kiln->id, fuel);
    }
    if (kiln->defaults && *kiln->defaults)
        assume(out, ks_arena_print(arena, "not told by the kiln's file: %s", kiln->defaults));
    fill_power(load, arena, out);
    fill_lining(load, arena, out);
    fill_air(out);
    fill_zones(load, arena, &out->heat);
    find_sensors(kiln, arena, out);
    out->supply_w = supply_w(&out->heat, options);
    return KS_OK;
}
