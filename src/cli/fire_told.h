/* fire_told.h: a firing in words and tables, for people. */
#ifndef KILNSTOW_CLI_FIRE_TOLD_H
#define KILNSTOW_CLI_FIRE_TOLD_H

#include "app/fire_run.h"
#include "cli/frame/speech.h"

void ks_cli_fire_told(const ks_fire_outcome *outcome, int i, ks_arena *arena);

/* What holds for every firing, once for all loads. */
void ks_cli_fire_cautions_told(const ks_fire_outcome *outcome);

#endif
