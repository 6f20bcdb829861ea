/* fit_told.h: the answer of fit as lines for people. */
#ifndef KILNSTOW_CLI_FIT_TOLD_H
#define KILNSTOW_CLI_FIT_TOLD_H

#include "app/fit_run.h"
#include "cli/speech.h"

void ks_fit_print(const ks_fit_outcome *outcome, ks_arena *arena);

#endif
