/* check.c: kilnstow check. */
#include "cli/frame/cli.h"

#include "app/answers/answer.h"

#include <stdio.h>

int ks_cli_check(int argc, char **argv)
{
    const ks_command command = {
        "check",
        "proves that a plan keeps every rule, and tells the tightest places",
        "PLAN",
        1,
        1,
        "  kilnstow check plan.json",
        "Exit status: 0 every rule is kept, 1 one is broken.",
        0,
        NULL};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_plan *plan;
    ks_check_report report;
    if (ks_plan_read(cli.parsed.args[0], &cli.arena, &plan, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    ks_check(plan, &cli.arena, &report);
    fputs(cli.parsed.json ? ks_answer_check(&report, &cli.arena)
                          : ks_check_words(&report, plan, &cli.arena),
          stdout);
    return ks_cli_finish(&cli, report.ok ? 0 : 1);
}
