#include "app/hours/full_hours.h"

#include "kilnstow/fire.h"

#include <math.h>

/* Of a full kiln: ware by the chamber's room, or all there is if that is less, a tier to so many mm
 * of its height, and of the stock's shelves what covers these and one tier more (common practice,
 * no source). */
#define WARE_KG_L 0.35
#define TIER_MM 150
enum { TIERS_MOST = 20, NOT_COOL_H = 240 };

/* Whole and half shelves of one stock are laid in turn, never all of them at once. */
static double shelves_kg(const ks_kiln *kiln, int tiers)
{
    double kg = 0, stock_mm2 = 0;
    for (int i = 0; i < kiln->n_shelves; i++) {
        const ks_shelf_kind *shelf = &kiln->shelves[i];
        kg += shelf->count * shelf->mass_kg;
        stock_mm2 += shelf->count * ks_outline_area(&shelf->outline);
    }
    double wanted_mm2 = (tiers + 1) * ks_chamber_litres(kiln) * 1e6 / kiln->height_mm;
    return stock_mm2 > wanted_mm2 ? kg * wanted_mm2 / stock_mm2 : kg;
}

static ks_bulk_load full(const ks_order *order, const ks_kiln *kiln, const ks_firing *firing,
                         ks_arena *arena)
{
    int room = (int)(kiln->height_mm / TIER_MM);
    int tiers = room < 1 ? 1 : room > TIERS_MOST ? TIERS_MOST : room;
    ks_bulk_load bulk = {.furniture_kg = shelves_kg(kiln, tiers),
                         .levels = tiers,
                         .stage = KS_FIRED,
                         .firing = *firing};
    for (int i = 0; i < order->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[i];
        if (!ks_piece_suits(order, piece, firing, NULL))
            continue;
        bulk.ware_kg += piece->count * piece->mass_kg;
        bulk.stage = piece->stage < bulk.stage ? piece->stage : bulk.stage;
        bulk.wall_mm = fmax(bulk.wall_mm, piece->wall_mm);
        bulk.loss_on_ignition = fmax(bulk.loss_on_ignition,
                                     ks_clay_or_usual(order->clays, piece->clay)->loss_on_ignition);
    }
    bulk.ware_kg = fmin(bulk.ware_kg, WARE_KG_L * ks_chamber_litres(kiln));
    return bulk;
}

/* A kiln that is not cool after ten days, or never gets to its cone, is taken up as long as that.
 */
static int hours_up(double hours)
{
    return isfinite(hours) && hours < NOT_COOL_H ? (int)ceil(hours) : NOT_COOL_H;
}

ks_status ks_full_fired(const ks_order *order, int kiln, int firing, ks_arena *arena,
                        ks_firing_result *out, ks_error *err)
{
    ks_fire_options options = ks_fire_default();
    ks_bulk_load bulk = full(order, &order->kilns[kiln], &order->firings[firing], arena);
    options.schedule = ks_order_schedule(order, order->firings[firing].schedule);
    options.cooling = true;
    return ks_fire_bulk(&order->kilns[kiln], &bulk, &options, arena, out, err);
}

static ks_status hours_of(const ks_order *order, int kiln, int firing, ks_load_hours *out,
                          ks_error *err)
{
    ks_arena scratch = {0};
    ks_firing_result fired;
    ks_status status = ks_full_fired(order, kiln, firing, &scratch, &fired, err);
    if (!status) {
        out->ended = hours_up(fired.hours);
        out->open = hours_up(fired.hours + fired.open_after_hours);
        out->cone_down = isfinite(fired.cone_down_h) ? hours_up(fired.cone_down_h) : out->ended;
    }
    ks_arena_finish(&scratch);
    return status;
}

static bool has_dated_load(const ks_order *order, int kiln, int firing)
{
    for (int s = 0; s < order->n_slots; s++)
        if (order->slots[s].day != KS_NO_DAY && order->slots[s].kiln == kiln &&
            (order->slots[s].firing < 0 || order->slots[s].firing == firing))
            return true;
    return false;
}

ks_status ks_full_hours(const ks_order *order, ks_arena *arena, const ks_load_hours **out,
                        ks_error *err)
{
    ks_load_hours *hours = KS_TAKE(arena, order->n_kilns * order->n_firings, ks_load_hours);
    ks_status status = KS_OK;
    bool any = false;
    for (int k = 0; k < order->n_kilns && !status; k++)
        for (int f = 0; f < order->n_firings && !status; f++) {
            if (!has_dated_load(order, k, f))
                continue;
            any = true;
            status = hours_of(order, k, f, &hours[k * order->n_firings + f], err);
        }
    *out = any ? hours : NULL;
    return status;
}
