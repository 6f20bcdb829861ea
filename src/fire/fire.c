#include "fire/case.h"

#include <math.h>

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
    ks_slant none = ks_slant_none();
    if (!status)
        status = ks_fire_case_run(&other, &none, false, &scratch, &without, err);
    if (!status)
        out->pace = (ks_pace){.why = worked->why_slowest,
                              .hours_more = out->hours - without.hours,
                              .kwh_more = out->energy.total - without.energy.total};
    ks_arena_finish(&scratch);
    return status;
}

static ks_status fire_case(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                           ks_error *err)
{
    ks_slant none = ks_slant_none();
    ks_status status = ks_fire_case_run(asked, &none, true, arena, out, err);
    if (!status && asked->options.range)
        status = ks_fire_case_range(asked, arena, out, err);
    if (!status && asked->options.pace)
        status = work_out_pace(asked, arena, out, err);
    if (status)
        return status;
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
