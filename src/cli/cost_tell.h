/* cost_tell.h: a costing in words on standard output. */
#ifndef KILNSTOW_CLI_COST_TELL_H
#define KILNSTOW_CLI_COST_TELL_H

#include "app/cost_run.h"
#include "cli/frame/speech.h"

void ks_tell_bills(const ks_costing *costing, ks_arena *arena);
void ks_tell_pieces(const ks_cost_outcome *outcome, ks_arena *arena);
void ks_tell_shares(const ks_costing *costing, ks_arena *arena);
void ks_tell_batches(const ks_cost_outcome *outcome, ks_arena *arena);
void ks_tell_assumed(const ks_costing *costing);

/* From kilowatt-hours and grams to the price, of one copy. */
void ks_tell_piece(const ks_cost_outcome *outcome, const ks_piece_cost *cost, ks_arena *arena);

/* Advice on when to start. */
void ks_tell_starts(const ks_cost_outcome *outcome, ks_arena *arena);

void ks_tell_what_if(const ks_cost_outcome *outcome, ks_arena *arena);
void ks_tell_additions(const ks_cost_outcome *outcome, ks_arena *arena);

/* One load in several kilns, as a table. */
void ks_tell_kilns(const ks_cost_outcome *outcome, ks_arena *arena);

#endif
