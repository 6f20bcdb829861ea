/* measured_told.h: the kiln's own record beside the simulated firing, in words. */
#ifndef KILNSTOW_CLI_MEASURED_TOLD_H
#define KILNSTOW_CLI_MEASURED_TOLD_H

#include "app/measured/measured.h"
#include "cli/frame/speech.h"
#include "kilnstow/order.h"

void ks_cli_measured_told(const ks_comparison *comparison, const ks_display *display,
                          ks_arena *arena);

#endif
