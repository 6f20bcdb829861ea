/* case.h: one question to the model, made ready: kiln, load, schedule. */
#ifndef KILNSTOW_FIRE_CASE_H
#define KILNSTOW_FIRE_CASE_H

#include "fire/pace.h"
#include "fire/firing_run.h"

typedef struct {
    ks_fire_options options;   /* with materials in place */
    const ks_plan *plan;       /* NULL = a load in bulk */
    const ks_display *display; /* for words */
    ks_fired_kiln kiln;
    ks_heat_load load;
    ks_needs needs;
    const ks_firing *firing;
    ks_schedule schedule;
    ks_worked_schedule worked; /* worked.style NULL = the schedule is the user's own */
    int end_cone, wanted_cone;
    double end_k; /* by which a schedule worked out here ends hotter than its cone asks */
    int n_turns;  /* of its switches, once they are known; 0 = to be found */
    const ks_turn *turns;
    const bool *minded;  /* segments along which they are switched off and on; NULL = none */
    double guessed_ware; /* part of the ware's mass that nobody weighed */
} ks_fire_case;

ks_status ks_fire_case_of_plan(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                               ks_fire_case *out, ks_error *err);
ks_status ks_fire_case_of_bulk(const ks_kiln *kiln, const ks_bulk_load *bulk,
                               const ks_fire_options *options, ks_arena *arena, ks_fire_case *out,
                               ks_error *err);

/* One run of it. With `whole`, curve, levels and cooling are worked out as the options ask. */
ks_status ks_fire_case_run(const ks_fire_case *asked, const ks_slant *slant, bool whole,
                           ks_arena *arena, ks_firing_result *out, ks_error *err);

/* Runs it once for each doubt to either side, and fills low, high and doubts. */
ks_status ks_fire_case_range(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                             ks_error *err);

/* What the firing needs of people: room, circuit, patience. */
void ks_fire_case_cautions(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out);

/* Walls that were asked more than they bear. */
void ks_fire_case_strains(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out);

/* Mends a schedule worked out here where a wall at its place in the load was asked more than it
 * bears, and fires it anew. */
ks_status ks_fire_case_spare(ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                             ks_error *err);

/* What every piece saw against what it asks for: fills seen, reached and outside. Tells by how much
 * a hotter end brings all inside: any shift from *least_k to *most_k would (none if least > most).
 */
void ks_fire_case_judge(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                        double *least_k, double *most_k);

/* Moves the end of a schedule worked out here so that every piece is inside its range, where one
 * shift does that; fires it anew. */
ks_status ks_fire_case_aim(ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                           ks_error *err);

/* Judges, looks for the one change that cures it, and says how it went in one sentence. */
ks_status ks_fire_case_verdict(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                               ks_error *err);

#endif
