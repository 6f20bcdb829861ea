/* help.h: a command told from its table, to people and to programs. */
#ifndef KILNSTOW_CLI_HELP_H
#define KILNSTOW_CLI_HELP_H

#include "cli/frame/options.h"
#include "kilnstow/arena.h"

/* The page that --help prints. */
void ks_help_print(const ks_command *command);

/* The same as the one JSON object of --help --json, in English: manual pages and completions are
 * made from it. */
const char *ks_help_json(const ks_command *command, ks_arena *arena);

#endif
