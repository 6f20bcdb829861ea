#include "studio/kilns/kiln_file.h"

#include "base/text.h"
#include "studio/names.h"

#include <string.h>

static const ks_field heat_fields[] = {
    KS_FIELD(WORD, ks_heat, kind, "kind", .required = true, .words = KS_HEAT_WORDS),
    KS_FIELD(POWER, ks_heat, rated_kw, "power", .required = true, .least = 0.1, .most = 1000,
             .unit = "kW"),
    KS_FIELD(NUMBER, ks_heat, rated_volts, "volts", .most = 1000),
    KS_FIELD(NUMBER, ks_heat, supply_volts, "supply_volts", .most = 1000),
    KS_FIELD(WHOLE, ks_heat, phases, "phases", .least = 1, .most = 3),
    KS_FIELD(NUMBER, ks_heat, amps, "amps", .most = 2000),
    KS_FIELD_KNOWN("zones"),
    KS_FIELD(TEMP, ks_heat, top_temp_c, "top_temperature", .least = 500, .most = 1900),
    KS_FIELD(TEXT, ks_heat, fuel, "fuel", .most = 60),
    KS_FIELD(NUMBER, ks_heat, excess_air, "excess_air", .most = 5),
    KS_FIELD(NUMBER, ks_heat, vent_m3_h, "vent_m3_h", .most = 5000),
    KS_FIELD(NUMBER, ks_heat, leak_m3_h, "leak_m3_h", .most = 500),
    KS_FIELD(NUMBER, ks_heat, casing_emissivity, "casing_emissivity", .least = 0.01, .most = 1),
    KS_FIELD(WORD, ks_heat, control, "control", .words = KS_CONTROL_WORDS),
    KS_FIELD(WHOLE, ks_heat, segments, "segments", .most = 500),
    KS_FIELD(TEMP, ks_heat, vent_off_c, "vent_off", .least = 20, .most = 1700),
    KS_FIELD(WORD, ks_heat, cool_by, "cool_by", .words = KS_COOL_BY_WORDS),
    KS_FIELD(TEMP, ks_heat, cool_from_c, "cool_from", .least = 20, .most = 1700),
};

static const ks_field zone_fields[] = {
    KS_FIELD(LENGTH, ks_zone, from_mm, "from", .required = true, .most = 5000),
    KS_FIELD(LENGTH, ks_zone, to_mm, "to", .required = true, .most = 5000),
    KS_FIELD(NUMBER, ks_zone, share, "share", .required = true, .most = 1),
};

static const ks_field layer_fields[] = {
    KS_FIELD(NAME, ks_layer, material, "material", .required = true, .least = 1, .most = 60),
    KS_FIELD(LENGTH, ks_layer, thickness_mm, "thickness", .required = true, .least = 1,
             .most = 1000),
};

static const ks_field lining_fields[] = {KS_FIELD_KNOWN("wall"), KS_FIELD_KNOWN("lid"),
                                         KS_FIELD_KNOWN("floor")};

/* Power for a litre of chamber where none is told, kW: an 11.5 kW kiln of about 200 litres. Vent,
 * leakage and casing: common practice, no source. */
static const double usual_kw_per_litre = 0.058, usual_top_c = 1280, usual_excess_air = 0.2,
                    usual_leak_m3_h = 1, usual_emissivity = 0.4;

static void read_zone(ks_reading *reading, const ks_json *node, void *into)
{
    ks_zone *zone = into;
    ks_error *err = reading->fields.err;
    if (KS_FIELDS_READ(node, zone_fields, &reading->fields, zone) == KS_OK &&
        zone->to_mm <= zone->from_mm)
        ks_json_fail(node, err, "found it from %g to %g mm; \"to\" must be above \"from\"",
                     zone->from_mm, zone->to_mm);
}

static void read_layer(ks_reading *reading, const ks_json *node, void *into)
{
    KS_FIELDS_READ(node, layer_fields, &reading->fields, into);
}

static void read_zones(ks_reading *reading, const ks_json *node, ks_kiln *kiln)
{
    ks_heat *heat = &kiln->heat;
    int before = reading->fields.err->count;
    heat->zones = ks_list_read(reading, node, 24, sizeof(ks_zone), read_zone, &heat->n_zones);
    if (reading->fields.err->count > before)
        return;
    if (heat->n_zones == 0) {
        heat->n_zones = 1;
        heat->zones = KS_TAKE(reading->fields.arena, 1, ks_zone);
        heat->zones[0] = (ks_zone){0, kiln->height_mm, 1};
        return;
    }
    double sum = 0;
    for (int i = 0; i < heat->n_zones; i++)
        sum += heat->zones[i].share;
    if (fabs(sum - 1) > 0.001)
        ks_json_fail(node, reading->fields.err, "the zones' shares add up to %g; they must make 1",
                     sum);
}

/* Amps of a supply that carries the rated power. */
static double usual_amps(const ks_heat *heat)
{
    double volts = heat->rated_volts * (heat->phases == 3 ? sqrt(3.0) : 1);
    return volts > 0 ? heat->rated_kw * 1000 / volts : 0;
}

static void check_told_heat(const ks_json *node, const ks_heat *heat, ks_error *err)
{
    if (heat->phases == 2)
        ks_json_fail(ks_json_get(node, "phases"), err,
                     "found 2; the supply is of 1 phase (two hot wires count as one) or 3");
    if (heat->kind == KS_GAS && heat->control == KS_BY_SWITCHES)
        ks_json_fail(
            ks_json_get(node, "control"), err,
            "found \"switches\" of a gas kiln; burners are turned by its valves, leave it out");
    if (heat->kind == KS_GAS ? heat->cool_by == KS_COOLS_VENT : heat->cool_by == KS_COOLS_DAMPER)
        ks_json_fail(ks_json_get(node, "cool_by"), err,
                     "found \"%s\"; a vent is an electric kiln's, a damper a gas kiln's",
                     heat->kind == KS_GAS ? "vent" : "damper");
    if (*heat->fuel && strcmp(heat->fuel, "natural gas") != 0 && strcmp(heat->fuel, "propane") != 0)
        ks_json_fail(ks_json_get(node, "fuel"), err,
                     "found \"%s\"; \"natural gas\" or \"propane\" is known", heat->fuel);
}

static void fill_heat(ks_kiln *kiln, ks_arena *arena)
{
    ks_heat *heat = &kiln->heat;
    const char **list = &kiln->defaults;
    bool gas = heat->kind == KS_GAS;
    ks_default_take(&heat->rated_kw, usual_kw_per_litre * ks_chamber_litres(kiln), list, "power",
                    arena);
    if (gas && isnan(heat->rated_volts))
        heat->rated_volts = 0;
    if (!gas && isnan(heat->excess_air))
        heat->excess_air = 0;
    ks_default_take(&heat->rated_volts, 240, list, "volts", arena);
    if (isnan(heat->supply_volts))
        heat->supply_volts = heat->rated_volts;
    if (isnan(heat->amps))
        heat->amps = usual_amps(heat);
    ks_default_take(&heat->top_temp_c, usual_top_c, list, "top temperature", arena);
    ks_default_take(&heat->excess_air, usual_excess_air, list, "excess air", arena);
    ks_default_take(&heat->vent_m3_h, 0, list, "vent", arena);
    ks_default_take(&heat->leak_m3_h, usual_leak_m3_h, list, "leak", arena);
    ks_default_take(&heat->casing_emissivity, usual_emissivity, list, "casing", arena);
    if (gas && !*heat->fuel) {
        heat->fuel = "natural gas";
        ks_default_note(list, "fuel", arena);
    }
}

/* Brick as thick as kilns of that size and kind mostly have; common practice, no source. */
static ks_lining usual_lining(const ks_kiln *kiln, ks_arena *arena)
{
    ks_layer *layer = KS_TAKE(arena, 1, ks_layer);
    bool heavy = kiln->heat.kind == KS_GAS || kiln->loading == KS_FRONT_LOADER;
    double thickness = heavy ? 114 : ks_chamber_litres(kiln) > 120 ? 76 : 64;
    *layer = (ks_layer){heavy ? "IFB 26" : "IFB 23", thickness};
    return (ks_lining){1, layer};
}

static void read_lining(ks_reading *reading, const ks_json *node, ks_kiln *kiln)
{
    struct {
        const char *key;
        ks_lining *lining;
    } sides[] = {
        {"wall", &kiln->heat.wall}, {"lid", &kiln->heat.lid}, {"floor", &kiln->heat.floor}};
    if (node)
        KS_FIELDS_READ(node, lining_fields, &reading->fields, kiln);
    for (int i = 0; i < 3; i++) {
        ks_lining *lining = sides[i].lining;
        lining->layers = ks_list_read(reading, ks_json_get(node, sides[i].key), 12,
                                      sizeof(ks_layer), read_layer, &lining->n_layers);
        if (lining->n_layers > 0)
            continue;
        *lining = i > 0 && kiln->heat.wall.n_layers > 0 ? kiln->heat.wall
                                                        : usual_lining(kiln, reading->fields.arena);
        ks_default_note(&kiln->defaults, "lining", reading->fields.arena);
    }
}

void ks_heat_read(ks_reading *reading, const ks_json *kiln_node, ks_kiln *kiln)
{
    const ks_json *node = ks_json_get(kiln_node, "heat");
    kiln->heat = (ks_heat){.rated_kw = KS_NOT_TOLD,
                           .rated_volts = KS_NOT_TOLD,
                           .supply_volts = KS_NOT_TOLD,
                           .phases = 1,
                           .amps = KS_NOT_TOLD,
                           .top_temp_c = KS_NOT_TOLD,
                           .fuel = "",
                           .excess_air = KS_NOT_TOLD,
                           .vent_m3_h = KS_NOT_TOLD,
                           .leak_m3_h = KS_NOT_TOLD,
                           .casing_emissivity = KS_NOT_TOLD,
                           .vent_off_c = KS_NOT_TOLD,
                           .cool_from_c = KS_NOT_TOLD};
    if (node && KS_FIELDS_READ(node, heat_fields, &reading->fields, &kiln->heat) == KS_OK)
        check_told_heat(node, &kiln->heat, reading->fields.err);
    read_zones(reading, ks_json_get(node, "zones"), kiln);
    fill_heat(kiln, reading->fields.arena);
    read_lining(reading, ks_json_get(kiln_node, "lining"), kiln);
}

static void write_lining(ks_json_out *out, const char *key, const ks_lining *lining)
{
    ks_out_array_flat(out, key);
    for (int i = 0; i < lining->n_layers; i++) {
        ks_out_object(out, NULL);
        KS_FIELDS_WRITE(out, layer_fields, 0, &lining->layers[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
}

void ks_heat_write(ks_json_out *out, const ks_kiln *kiln)
{
    const ks_heat *heat = &kiln->heat;
    ks_out_object(out, "heat");
    KS_FIELDS_WRITE(out, heat_fields, 0, heat);
    ks_out_array_flat(out, "zones");
    for (int i = 0; i < heat->n_zones; i++) {
        ks_out_object(out, NULL);
        KS_FIELDS_WRITE(out, zone_fields, 0, &heat->zones[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_end(out);
    ks_out_object(out, "lining");
    write_lining(out, "wall", &heat->wall);
    write_lining(out, "lid", &heat->lid);
    write_lining(out, "floor", &heat->floor);
    ks_out_end(out);
}
