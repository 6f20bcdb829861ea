/* The roomiest stand as a plan of one piece. */
#include "kilnstow/fit.h"

#include "base/version.h"
#include "place/draft/draft_plan.h"
#include "fit/fit_way.h"

#include <math.h>

static double on_grid(double mm)
{
    return floor(mm / KS_GRID + 0.5) * KS_GRID;
}

static ks_draft drafted(const ks_job *job, const ks_stack_level *level, ks_stand stand,
                        ks_arena *arena)
{
    ks_draft draft = {.n_loads = 1, .loads = KS_TAKE(arena, 1, ks_draft_load)};
    draft.loads[0] = (ks_draft_load){.n_levels = 1, .levels = KS_TAKE(arena, 1, ks_draft_level)};
    ks_shelf_spot *spot = KS_TAKE(arena, 1, ks_shelf_spot);
    *spot = (ks_shelf_spot){0, {on_grid(stand.x), on_grid(stand.y), stand.turn_deg}};
    draft.loads[0].levels[0] = (ks_draft_level){
        .at = *level, .layout = {.n_spots = 1, .spots = spot, .worth = job->worth[0]}};
    draft.left = KS_TAKE(arena, job->n_items, int);
    return draft;
}

static ks_plan *plan(const ks_fit_case *asked, const ks_stack_level *level, const ks_fit_way *way,
                     ks_arena *arena)
{
    ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
    ks_draft draft = drafted(&asked->job, level, way->stand, arena);
    *plan = (ks_plan){.version = ks_version,
                      .seed = 1,
                      .stopped_by = "proof",
                      .order = &asked->order,
                      .objective = asked->order.rules.objective,
                      .worth = asked->job.worth[0],
                      .bound = asked->job.worth[0],
                      .bound_kind = "one piece"};
    ks_answer_loads(&asked->job, &draft, plan, arena);
    return plan;
}

ks_plan *ks_fit_plan(const ks_order *order, const ks_fit_answer *answer, ks_arena *arena)
{
    const ks_fit_visit *visit = &answer->visits[answer->n_visits - 1];
    ks_fit_case *asked = KS_TAKE(arena, 1, ks_fit_case);
    ks_error unused = {0};
    if (!visit->best.possible ||
        ks_fit_case_of(order, visit->piece, 1, answer->kiln, NULL, arena, asked, &unused) != KS_OK)
        return NULL;
    ks_fit_levels levels = ks_fit_bottom_levels(asked, arena);
    for (int l = 0; l < levels.n; l++)
        if (ks_fit_way_on(&visit->best, &levels.levels[l]))
            return plan(asked, &levels.levels[l], &visit->best, arena);
    return NULL;
}
