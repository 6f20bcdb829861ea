/* fit_told.h: the answer of fit as lines for people. */
#ifndef KILNSTOW_CLI_FIT_TOLD_H
#define KILNSTOW_CLI_FIT_TOLD_H

#include "app/fitting/fit_run.h"
#include "cli/frame/speech.h"

/* How large a form may be in one kiln (largest_told.c). */
void ks_fit_print_largest(const ks_fit_outcome *outcome, const ks_fit_largest *largest,
                          ks_arena *arena);

/* Each piece in several kilns, a row for each (kilns_told.c). */
void ks_fit_print_kilns(const ks_fit_outcome *outcome, ks_arena *arena);

void ks_fit_print(const ks_fit_outcome *outcome, ks_arena *arena);

#endif
