#include "fire/case.h"

#include <math.h>

#define SLAB_BISQUE_KWH_KG                                                                         \
    1.2 /* its share of a bisque firing: three times what it takes up itself */

/* A raw slab under fired work holds all of the load up; in a bisque firing it rides along. */
static void advise_bisque(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out)
{
    const ks_piece *piece = asked->plan ? &asked->plan->order->pieces[asked->worked.slowest] : NULL;
    bool under_fired = piece && piece->stage != KS_LEATHER && piece->stage != KS_DRY &&
                       piece->has_setter && piece->setter.stage_told &&
                       (piece->setter.stage == KS_LEATHER || piece->setter.stage == KS_DRY);
    if (under_fired && out->pace.kwh_more > SLAB_BISQUE_KWH_KG * piece->setter.mass_kg)
        out->pace.why = ks_arena_print(
            arena, "%s; bisque the slab first, in a bisque firing it takes about %.0f kWh",
            out->pace.why, fmax(1, SLAB_BISQUE_KWH_KG * piece->setter.mass_kg));
}

/* What the slowest piece costs the others: the same load by the schedule it would have without
 * that piece's need. */
static ks_status work_out_pace(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                               ks_error *err)
{
    const ks_worked_schedule *worked = &asked->worked;
    if (!worked->style || worked->slowest < 0)
        return KS_OK;
    ks_arena scratch = {0};
    ks_fire_case other = *asked;
    ks_firing_result without;
    ks_needs rest = ks_needs_without(&asked->needs, worked->slowest, &scratch);
    ks_status status = ks_schedule_for(&rest, asked->options.style, &scratch, &other.worked, err);
    other.schedule = other.worked.schedule;
    other.n_turns = 0;
    other.minded = NULL;
    other.options.cooling = false;
    ks_slant none = ks_slant_none();
    if (!status)
        status = ks_fire_case_run(&other, &none, false, &scratch, &without, err);
    if (!status)
        out->pace = (ks_pace){.why = worked->why_slowest,
                              .hours_more = out->hours - without.hours,
                              .kwh_more = out->energy.total - without.energy.total};
    ks_arena_finish(&scratch);
    if (!status && out->pace.why)
        advise_bisque(asked, arena, out);
    return status;
}

static ks_status fire_case(ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                           ks_error *err)
{
    ks_slant none = ks_slant_none();
    ks_status status = ks_fire_case_run(asked, &none, true, arena, out, err);
    bool by_switches = asked->kiln.heat.control == KS_BY_SWITCHES;
    if (!status && asked->worked.style)
        status = ks_fire_case_spare(asked, arena, out, err);
    if (!status && (asked->worked.style || by_switches))
        status = ks_fire_case_aim(asked, arena, out, err);
    asked->n_turns = out->n_turns;
    asked->turns = out->turns;
    if (!status && asked->options.range)
        status = ks_fire_case_range(asked, arena, out, err);
    if (!status && asked->options.pace)
        status = work_out_pace(asked, arena, out, err);
    if (status)
        return status;
    ks_fire_case_strains(asked, arena, out);
    ks_fire_case_cautions(asked, arena, out);
    return ks_fire_case_verdict(asked, arena, out, err);
}

ks_status ks_fire(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                  ks_firing_result *out, ks_error *err)
{
    ks_fire_case asked;
    *out = (ks_firing_result){0};
    ks_status status = ks_fire_case_of_plan(plan, options, arena, &asked, err);
    if (!status)
        status = fire_case(&asked, arena, out, err);
    if (!status && out->pace.why)
        out->pace.piece = plan->order->pieces[asked.worked.slowest].id;
    return status;
}

ks_status ks_fire_bulk(const ks_kiln *kiln, const ks_bulk_load *bulk,
                       const ks_fire_options *options, ks_arena *arena, ks_firing_result *out,
                       ks_error *err)
{
    ks_fire_case asked;
    *out = (ks_firing_result){0};
    ks_status status = ks_fire_case_of_bulk(kiln, bulk, options, arena, &asked, err);
    return status ? status : fire_case(&asked, arena, out, err);
}
