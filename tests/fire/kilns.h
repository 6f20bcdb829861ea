/* kilns.h: kilns and firings that the tests share. */
#ifndef KILNSTOW_TESTS_FIRE_KILNS_H
#define KILNSTOW_TESTS_FIRE_KILNS_H

#include "kilnstow/cone.h"
#include "kilnstow/fire.h"

/* A round top loader and what is put in it, in bulk. */
typedef struct {
    double across_mm, high_mm, wall_mm, kw, emissivity, leak_m3_h, vent_m3_h;
    double ware_kg, furniture_kg;
    int levels;
    ks_stage stage;
    double rate_c_h, top_c, hold_h;
    const char *cone;  /* NULL = by temperature */
    const char *brick; /* NULL = IFB 23 */
    double board_mm;   /* of calcium silicate behind it */
} plain_firing;

/* 198 litres, 76 mm of brick, 11.5 kW. */
static plain_firing plain_198(void)
{
    return (plain_firing){605, 690,      76,  11.5, 0.4, 0.01, 0,    20, 15,
                          4,   KS_FIRED, 150, 1093, 0,   NULL, NULL, 0};
}

/* Holds what a firing points to. */
typedef struct {
    ks_arena arena;
    ks_chamber_part part;
    ks_layer layers[2];
    ks_zone zones[3];
    ks_kiln kiln;
    ks_bulk_load bulk;
    ks_segment segment;
    ks_schedule schedule;
    ks_fire_options options;
} plain_case;

static void plain_case_make(const plain_firing *f, plain_case *c)
{
    double h = f->high_mm;
    *c = (plain_case){0};
    c->part = (ks_chamber_part){0, h, ks_outline_disc(0, 0, f->across_mm / 2, &c->arena)};
    c->layers[0] = (ks_layer){f->brick ? f->brick : "IFB 23", f->wall_mm};
    c->layers[1] = (ks_layer){"calcium silicate", f->board_mm};
    c->zones[0] = (ks_zone){0, h / 3, 0.35};
    c->zones[1] = (ks_zone){h / 3, 2 * h / 3, 0.30};
    c->zones[2] = (ks_zone){2 * h / 3, h, 0.35};
    ks_lining lining = {f->board_mm > 0 ? 2 : 1, c->layers};
    c->kiln =
        (ks_kiln){.id = "plain", .name = "plain", .height_mm = h, .n_parts = 1, .parts = &c->part};
    c->kiln.heat = (ks_heat){.kind = KS_ELECTRIC,
                             .rated_kw = f->kw,
                             .rated_volts = 240,
                             .supply_volts = 240,
                             .phases = 1,
                             .n_zones = 3,
                             .zones = c->zones,
                             .top_temp_c = 1290,
                             .vent_m3_h = f->vent_m3_h,
                             .leak_m3_h = f->leak_m3_h,
                             .casing_emissivity = f->emissivity,
                             .wall = lining,
                             .lid = lining,
                             .floor = lining};
    c->bulk = (ks_bulk_load){f->ware_kg,
                             f->furniture_kg,
                             f->levels,
                             f->stage,
                             0.07,
                             7,
                             {.id = "plain",
                              .cone = f->cone ? f->cone : "",
                              .top_temp_c = f->top_c,
                              .atmosphere = "oxidation",
                              .schedule = ""}};
    c->segment = (ks_segment){f->rate_c_h, f->top_c, f->hold_h};
    c->schedule = (ks_schedule){"plain", "", 1, &c->segment, f->cone ? f->cone : ""};
    c->options = ks_fire_default();
    c->options.range = c->options.cooling = false;
    c->options.schedule = &c->schedule;
}

static ks_firing_result plain_fire(plain_case *c)
{
    ks_firing_result result;
    ks_error err = {0};
    ks_status status = ks_fire_bulk(&c->kiln, &c->bulk, &c->options, &c->arena, &result, &err);
    if (status)
        print_error("%s\n", err.text);
    assert_int_equal(status, KS_OK);
    return result;
}

static inline ks_energy plain_energy(const plain_firing *f)
{
    plain_case c;
    plain_case_make(f, &c);
    ks_energy energy = plain_fire(&c).energy;
    ks_arena_finish(&c.arena);
    return energy;
}

static inline double plain_kwh(const plain_firing *f)
{
    return plain_energy(f).total;
}

#endif
