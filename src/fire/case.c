#include "fire/case.h"

#include <math.h>
#include <string.h>

ks_fire_options ks_fire_default(void)
{
    return (ks_fire_options){.ware_fraction = 1,
                             .room_c = 20,
                             .as_built = 1,
                             .store_factor = 1,
                             .cooling = true,
                             .step_s = 60};
}

static ks_status check_options(const ks_fire_options *options, ks_error *err)
{
    const struct {
        const char *name;
        double value, least, most;
    } rules[] = {
        {"volts", options->volts, 0, 1000},
        {"elements worn", options->elements_worn, 0, 2},
        {"ware fraction", options->ware_fraction, 0, 4},
        {"room temperature", options->room_c, -20, 45},
        {"vent off", options->vent_off_c, 0, 1700},
        {"cooling from", options->cool_from_c, 0, 1700},
        {"as-built factor", options->as_built, 0.2, 5},
        {"as-built spread", options->as_built_spread, 0, 1},
        {"store factor", options->store_factor, 0.2, 5},
        {"time step", options->step_s, 1, 600},
        {"cells", options->cells, 0, 40},
    };
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++)
        if (!(rules[i].value >= rules[i].least && rules[i].value <= rules[i].most))
            return ks_fail(err, KS_BAD_USAGE, "%s: must be %g to %g, not %g", rules[i].name,
                           rules[i].least, rules[i].most, rules[i].value);
    return KS_OK;
}

static ks_status check_segment(const ks_schedule *schedule, int i, ks_error *err)
{
    const ks_segment *s = &schedule->segments[i];
    if (!(s->target_c >= 0 && s->target_c <= 1700))
        return ks_fail(err, KS_BAD_INPUT,
                       "schedule %s, segment %d: target: must be 0 to 1700 C, not %g C",
                       schedule->id, i + 1, s->target_c);
    if (!(fabs(s->rate_c_h) <= 5000) || (s->rate_c_h != 0 && fabs(s->rate_c_h) < 0.5))
        return ks_fail(
            err, KS_BAD_INPUT,
            "schedule %s, segment %d: rate: must be 0.5 to 5000 C/h, or 0 for as fast as "
            "the kiln can, not %g C/h",
            schedule->id, i + 1, s->rate_c_h);
    if (!(s->hold_h >= 0 && s->hold_h <= 200))
        return ks_fail(err, KS_BAD_INPUT,
                       "schedule %s, segment %d: hold: must be 0 to 200 h, not %g h", schedule->id,
                       i + 1, s->hold_h);
    return KS_OK;
}

static ks_status cone_place(const char *cone, int *place, ks_error *err)
{
    *place = -1;
    if (!cone || !*cone)
        return KS_OK;
    *place = ks_cone_find(cone);
    return *place >= 0
               ? KS_OK
               : ks_fail(err, KS_BAD_INPUT, "cone: must be one of 022 to 14, not \"%s\"", cone);
}

static ks_status check_schedule(ks_fire_case *out, ks_error *err)
{
    const ks_schedule *schedule = &out->schedule;
    if (!schedule->id)
        out->schedule.id = "";
    if (schedule->n_segments < 1)
        return ks_fail(err, KS_BAD_INPUT, "schedule %s: must have at least one segment, not none",
                       schedule->id);
    for (int i = 0; i < schedule->n_segments; i++)
        if (check_segment(schedule, i, err))
            return KS_BAD_INPUT;
    if (cone_place(schedule->end_cone, &out->end_cone, err) ||
        cone_place(out->firing->cone, &out->wanted_cone, err))
        return KS_BAD_INPUT;
    return KS_OK;
}

/* What the kiln's file tells where the options do not. */
static void take_kilns_ways(ks_fire_case *out)
{
    const ks_heat *heat = &out->kiln.heat;
    if (out->options.vent_off_c <= 0 && heat->vent_off_c > 0)
        out->options.vent_off_c = heat->vent_off_c;
    if (out->options.cool_by == KS_COOLS_USUAL)
        out->options.cool_by = heat->cool_by;
    if (out->options.cool_from_c <= 0 && heat->cool_from_c > 0)
        out->options.cool_from_c = heat->cool_from_c;
}

/* What the load and its kiln add to the needs of single pieces. */
static void fill_needs(ks_fire_case *out)
{
    out->needs.display = out->display;
    out->needs.segments_most =
        out->kiln.heat.control == KS_BY_SWITCHES ? 0 : out->kiln.heat.segments;
    out->needs.air_m3_h = out->kiln.heat.vent_m3_h + out->kiln.heat.leak_m3_h;
    for (int i = 0; i < out->load.n; i++) {
        const ks_load_level *level = &out->load.levels[i];
        out->needs.water_kg += level->edge.water_kg + level->middle.water_kg;
        out->needs.shelf_mm = fmax(out->needs.shelf_mm, 1000 * level->shelf_thickness_m);
    }
}

static ks_status choose_schedule(const ks_plan *plan, ks_arena *arena, ks_fire_case *out,
                                 ks_error *err)
{
    const ks_schedule *own = out->options.schedule;
    take_kilns_ways(out);
    fill_needs(out);
    if (!own && !out->options.style && plan)
        own = ks_order_schedule(plan->order, out->firing->schedule);
    if (own) {
        out->schedule = *own;
    } else {
        ks_status status =
            ks_schedule_for(&out->needs, out->options.style, arena, &out->worked, err);
        if (status)
            return status;
        out->schedule = out->worked.schedule;
    }
    return check_schedule(out, err);
}

static ks_status take_options(const ks_fire_options *options, ks_fire_case *out, ks_error *err)
{
    static const ks_display metric = {"mm", "kg", "C"};
    *out =
        (ks_fire_case){.options = *options, .display = &metric, .end_cone = -1, .wanted_cone = -1};
    if (!out->options.materials)
        out->options.materials = ks_materials_built_in();
    return check_options(options, err);
}

static double guessed_ware(const ks_plan *plan, const ks_load *load)
{
    double guessed_kg = 0, sum_kg = 0;
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pieces; i++) {
            int place = load->levels[l].pieces[i].piece;
            if (place < 0)
                continue;
            const ks_piece *piece = &plan->order->pieces[place];
            bool guessed = piece->defaults && strstr(piece->defaults, "mass");
            guessed_kg += guessed ? piece->mass_kg : 0;
            sum_kg += piece->mass_kg;
        }
    return sum_kg > 0 ? guessed_kg / sum_kg : 0;
}

ks_status ks_fire_case_of_plan(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                               ks_fire_case *out, ks_error *err)
{
    ks_status status = take_options(options, out, err);
    if (status)
        return status;
    if (options->load < 0 || options->load >= plan->n_loads)
        return ks_fail(err, KS_BAD_USAGE, "load: found %d; the plan has %d", options->load + 1,
                       plan->n_loads);
    const ks_load *load = &plan->loads[options->load];
    if (load->kiln < 0)
        return ks_fail(err, KS_BAD_INPUT, "load %d: kiln \"%s\" is not in the order",
                       options->load + 1, load->kiln_id);
    if (load->n_parts < 1)
        return ks_fail(err, KS_BAD_INPUT, "load %d: its chamber has no parts", options->load + 1);
    out->firing = &load->firing;
    out->plan = plan;
    out->display = &plan->order->display;
    out->guessed_ware = guessed_ware(plan, load);
    ks_heat_load_of_plan(plan, &out->options, arena, &out->load);
    ks_needs_of_load(plan, options->load, arena, &out->needs);
    status = ks_fired_kiln_of(&plan->order->kilns[load->kiln], &out->load, &out->options, arena,
                              &out->kiln, err);
    return status ? status : choose_schedule(plan, arena, out, err);
}

ks_status ks_fire_case_of_bulk(const ks_kiln *kiln, const ks_bulk_load *bulk,
                               const ks_fire_options *options, ks_arena *arena, ks_fire_case *out,
                               ks_error *err)
{
    ks_status status = take_options(options, out, err);
    if (status)
        return status;
    if (kiln->n_parts < 1)
        return ks_fail(err, KS_BAD_INPUT, "kiln %s: its chamber has no parts", kiln->id);
    if (!(bulk->ware_kg >= 0 && bulk->ware_kg <= 20000 && bulk->furniture_kg >= 0 &&
          bulk->furniture_kg <= 20000 && bulk->levels >= 0 && bulk->levels <= 40))
        return ks_fail(
            err, KS_BAD_INPUT,
            "load in bulk: must be 0 to 20000 kg on up to 40 levels, not %g kg of ware and "
            "%g kg of furniture on %d",
            bulk->ware_kg, bulk->furniture_kg, bulk->levels);
    out->firing = &bulk->firing;
    ks_heat_load_of_bulk(kiln, bulk, &out->options, arena, &out->load);
    ks_needs_of_bulk(bulk, arena, &out->needs);
    status = ks_fired_kiln_of(kiln, &out->load, &out->options, arena, &out->kiln, err);
    return status ? status : choose_schedule(NULL, arena, out, err);
}

double ks_schedule_top_c(const ks_schedule *schedule)
{
    double hottest = 0;
    for (int i = 0; i < schedule->n_segments; i++)
        hottest = fmax(hottest, schedule->segments[i].target_c);
    return hottest;
}

double ks_segment_target_c(const ks_segment_fired *segment)
{
    bool worked = segment->reason && *segment->reason;
    return worked && segment->ended_by_cone ? segment->to_c : segment->asked.target_c;
}

/* The schedule with its top moved. */
static ks_schedule moved_top(const ks_schedule *schedule, double by_k, ks_arena *arena)
{
    ks_schedule moved = *schedule;
    double hottest = ks_schedule_top_c(schedule);
    moved.segments = KS_TAKE(arena, schedule->n_segments, ks_segment);
    for (int i = 0; i < schedule->n_segments; i++) {
        moved.segments[i] = schedule->segments[i];
        if (schedule->segments[i].target_c == hottest)
            moved.segments[i].target_c += by_k;
    }
    return moved;
}

ks_status ks_fire_case_run(const ks_fire_case *asked, const ks_slant *slant, bool whole,
                           ks_arena *arena, ks_firing_result *out, ks_error *err)
{
    ks_slant moved = *slant;
    moved.end_k += asked->end_k;
    ks_schedule schedule =
        moved.end_k == 0 ? asked->schedule : moved_top(&asked->schedule, moved.end_k, arena);
    ks_run_job job = {.parts = {&asked->kiln, &asked->load, &asked->options, moved},
                      .schedule = &schedule,
                      .reasons = asked->worked.style ? asked->worked.reasons : NULL,
                      .end_cone = asked->end_cone,
                      .wanted_cone = asked->wanted_cone,
                      .by_hand = asked->kiln.heat.control == KS_BY_SWITCHES,
                      .n_turns = asked->n_turns,
                      .turns = asked->turns,
                      .minded = asked->minded,
                      .display = asked->display,
                      .reduces = asked->firing->atmosphere &&
                                 strcmp(asked->firing->atmosphere, "reduction") == 0,
                      .cooling = asked->options.cooling,
                      .curve = whole};
    ks_status status = ks_run(&job, arena, out, err);
    out->low_kwh = out->high_kwh = out->energy.total;
    out->open_low_h = out->open_high_h = out->open_after_hours;
    out->n_assumed = asked->kiln.n_assumed;
    out->assumed = KS_TAKE(arena, asked->kiln.n_assumed, const char *);
    for (int i = 0; i < asked->kiln.n_assumed; i++)
        out->assumed[i] = asked->kiln.assumed[i];
    return status;
}
