/* log_command.h: the commands on the studio's record. */
#ifndef KILNSTOW_CLI_LOG_COMMAND_H
#define KILNSTOW_CLI_LOG_COMMAND_H

#include "cli/frame/cli.h"

#define KS_OPTION_BOOK(into)                                                                       \
    {                                                                                              \
        "book", 0, "FILE", KS_OPT_TEXT, (into), 0, 0,                                              \
            "the record; kilnstow.book in this folder unless told"                                 \
    }

/* The entry that the command's first argument names: KS_BAD_USAGE where it is no number of one. */
ks_status ks_cli_entry_number(ks_cli *cli, int *n);

/* KS_BAD_USAGE where --from or --to (NULL = not given) is no day. */
ks_status ks_cli_days_check(ks_cli *cli, const char *from, const char *to);

/* Each gets the arguments from its own name on, and returns the program's exit status. */
int ks_cli_log_add(int argc, char **argv);
int ks_cli_log_mend(int argc, char **argv);
int ks_cli_log_list(int argc, char **argv);
int ks_cli_log_show(int argc, char **argv);
int ks_cli_log_tune(int argc, char **argv);
int ks_cli_log_map(int argc, char **argv);
int ks_cli_log_losses(int argc, char **argv);
int ks_cli_log_account(int argc, char **argv);
int ks_cli_log_paid(int argc, char **argv);
int ks_cli_log_waiting(int argc, char **argv);
int ks_cli_log_upkeep(int argc, char **argv);
int ks_cli_log_stock(int argc, char **argv);
int ks_cli_log_next(int argc, char **argv);
int ks_cli_log_became(int argc, char **argv);
int ks_cli_log_pots(int argc, char **argv);
int ks_cli_log_export(int argc, char **argv);
int ks_cli_log_import(int argc, char **argv);
int ks_cli_log_copy(int argc, char **argv);
int ks_cli_log_open(int argc, char **argv);
int ks_cli_log_sound(int argc, char **argv);

#endif
