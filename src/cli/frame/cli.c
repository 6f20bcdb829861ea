#include "cli/frame/cli.h"

#include "app/answers/answer.h"
#include "base/file.h"
#include "cli/frame/help.h"
#include "cli/frame/plain.h"

#include <stdio.h>

bool ks_cli_start(ks_cli *cli, const ks_command *command, int argc, char **argv, int *exit_status)
{
    *cli = (ks_cli){.command = command};
    ks_status status = ks_options_parse(command, argc, argv, &cli->parsed, &cli->err);
    if (!status && !cli->parsed.help)
        return true;
    if (!status && cli->parsed.json)
        fputs(ks_help_json(command, &cli->arena), stdout);
    else if (!status)
        ks_help_print(command);
    *exit_status = status ? ks_cli_failed(cli) : KS_OK;
    *exit_status = ks_cli_finish(cli, *exit_status);
    return false;
}

int ks_cli_failed(const ks_cli *cli)
{
    const ks_error *err = &cli->err;
    if (cli->parsed.json) {
        ks_arena arena = {0};
        fputs(ks_answer_failure(cli->command->name, err, &arena), stdout);
        ks_arena_finish(&arena);
        return (int)err->status;
    }
    fprintf(stderr, "%s\n", err->text);
    if (err->count > KS_ERRORS_SHOWN)
        fprintf(stderr, "and %d more like these\n", err->count - KS_ERRORS_SHOWN);
    return (int)err->status;
}

int ks_cli_finish(ks_cli *cli, int exit_status)
{
    ks_arena_finish(&cli->arena);
    return ks_cli_flush(exit_status);
}

ks_status ks_cli_output_check(ks_cli *cli, const char *path)
{
    if (!cli->parsed.json || !path || !ks_path_is_standard(path))
        return KS_OK;
    return ks_fail(&cli->err, KS_BAD_USAGE,
                   "%s: found -o - and --json, and both go to standard output; give a file to one",
                   cli->command->name);
}

void ks_cli_output_done(const char *path)
{
    if (path && ks_path_is_standard(path))
        ks_plain_aside();
}

int ks_cli_flush(int exit_status)
{
    if (fflush(stdout) != 0 || ferror(stdout)) {
        perror("kilnstow: standard output");
        return KS_SYSTEM;
    }
    return exit_status;
}
