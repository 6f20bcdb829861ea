/* cli.h: what every command offers to main, and how commands speak. */
#ifndef KILNSTOW_CLI_CLI_H
#define KILNSTOW_CLI_CLI_H

#include "cli/frame/options.h"
#include "kilnstow/arena.h"

/* Of the option that all commands on orders have. */
#define KS_COLUMNS_HELP "what headings of ware tables mean: \"Durchmesser=diameter,Notiz=none\""

/* Each returns the program's exit status. */
int ks_cli_place(int argc, char **argv);
int ks_cli_check(int argc, char **argv);
int ks_cli_fire(int argc, char **argv);
int ks_cli_calendar(int argc, char **argv);
int ks_cli_cost(int argc, char **argv);
int ks_cli_fit(int argc, char **argv);
int ks_cli_draw(int argc, char **argv);
int ks_cli_log(int argc, char **argv);
int ks_cli_list(int argc, char **argv);
int ks_cli_serve(int argc, char **argv);

/* What a command has in hand while it runs. */
typedef struct {
    const ks_command *command;
    ks_parsed parsed;
    ks_arena arena;
    ks_error err;
} ks_cli;

/* Parses; true when the command should go on. Else *exit_status says how to end (help given, or
 * the slip told). */
bool ks_cli_start(ks_cli *cli, const ks_command *command, int argc, char **argv, int *exit_status);

/* Tells the failure noted in cli->err, on stderr or as the JSON answer; returns its status. */
int ks_cli_failed(const ks_cli *cli);

/* Returns `exit_status`, or KS_SYSTEM when standard output could not take what was printed. */
int ks_cli_flush(int exit_status);

/* KS_BAD_USAGE where `path` is "-", standard output, and something else is to go there too. */
ks_status ks_cli_output_check(ks_cli *cli, const char *path);

/* Call it once the file is written: the words that follow go to standard error where the file went
 * to standard output. */
void ks_cli_output_done(const char *path);

/* Frees all; returns `exit_status`, or KS_SYSTEM when standard output could not take the answer. */
int ks_cli_finish(ks_cli *cli, int exit_status);

/* What would still go into the loads of a plan. */
int ks_cli_list_room(ks_cli *cli, const char *plan_path);

/* What was understood of an order's ware, one line a row. */
int ks_cli_list_ware(ks_cli *cli, const char *order_path, const char *columns);

#endif
