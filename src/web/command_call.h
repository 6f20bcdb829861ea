/* command_call.h: POST /api/COMMAND: a command of the program, run for a call. */
#ifndef KILNSTOW_WEB_COMMAND_CALL_H
#define KILNSTOW_WEB_COMMAND_CALL_H

#include "web/call.h"

/* Answers at once where what is asked for cannot be read; else the call waits for the command,
 * which begins when fewer than KS_COMMANDS_MOST others run. */
enum { KS_COMMANDS_MOST = 4 };
void ks_command_call(ks_call *call);

#endif
