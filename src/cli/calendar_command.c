/* calendar_command.c: kilnstow calendar. */
#include "cli/frame/cli.h"

#include "app/answers/answer.h"
#include "base/file.h"
#include "cli/calendar_told.h"

#include <stdio.h>

enum { MOST_PLANS = 400 };

int ks_cli_calendar(int argc, char **argv)
{
    ks_calendar_job job = {.load = 0};
    const ks_option options[] = {
        {"output", 'o', "FILE", KS_OPT_TEXT, &job.out_path, 0, 0,
         "where to as well: .ics for calendars, .pdf, .svg or .png for sheets of two weeks"},
        {"load", 0, "N", KS_OPT_COUNT, &job.load, 1, 10000, "this load of each plan only"},
        {"start", 0, "TIME", KS_OPT_TEXT, &job.start, 0, 0,
         "of the only load: \"2026-11-28 18:00\""},
        {"from", 0, "DATE", KS_OPT_TEXT, &job.from, 0, 0,
         "the first day to propose to loads without a date; tomorrow"},
        KS_OPTION_FORCE(&job.force),
    };
    const ks_command command = {
        "calendar",
        "when each load is loaded, on, over and open, which clash, what is in time",
        "PLAN...",
        1,
        MOST_PLANS,
        "  kilnstow calendar plan.json\n"
        "  kilnstow calendar november.json december.json -o kilns.pdf\n"
        "  kilnstow calendar plan.json -o kilns.ics",
        "Times are simulated. Kilns of one id in several plans are one kiln. An .ics file that is "
        "written again\nupdates its events, and tells those that are no more as cancelled.\n"
        "Exit status: 0, also where ware is late; 1 loads of one kiln clash.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_calendar_outcome outcome = {0};
    job.load--;
    job.n_plans = cli.parsed.n_args;
    job.plan_paths = (const char *const *)cli.parsed.args;
    ks_status status = KS_OK;
    if (job.out_path && ks_path_is_standard(job.out_path))
        status = ks_fail(&cli.err, KS_BAD_USAGE,
                         "calendar: -o -: name a file, its ending tells what is wanted");
    if (!status)
        status = ks_calendar_run(&job, &cli.arena, &outcome, &cli.err);
    if (status)
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_calendar(&outcome, &cli.arena), stdout);
    else
        ks_cli_calendar_told(&outcome, &cli.arena);
    return ks_cli_finish(&cli, outcome.n_clashes > 0 ? 1 : 0);
}
