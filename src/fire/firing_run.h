/* firing_run.h: one firing from cold to open, step by step. */
#ifndef KILNSTOW_FIRE_FIRING_RUN_H
#define KILNSTOW_FIRE_FIRING_RUN_H

#include "fire/run_job.h"

/* Runs it. Fails when the kiln or its load cannot be made a model of. */
ks_status ks_run(const ks_run_job *job, ks_arena *arena, ks_firing_result *out, ks_error *err);

#endif
