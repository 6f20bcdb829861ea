/* check.c: kilnstow check. */
#include "cli/cli.h"
#include "cli/summary.h"

#include "app/answer.h"

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
    if (cli.parsed.json) {
        fputs(ks_answer_check(&report, &cli.arena), stdout);
        return ks_cli_finish(&cli, report.ok ? 0 : 1);
    }
    ks_summary_rules(&report, stdout);
    if (report.ok)
        printf("Every rule is kept: %d pieces placed, %d waiting.\n", ks_plan_placed(plan),
               ks_plan_waiting(plan));
    else
        printf("%d place%s where a rule is broken.\n", report.n_broken,
               report.n_broken == 1 ? "" : "s");
    return ks_cli_finish(&cli, report.ok ? 0 : 1);
}
