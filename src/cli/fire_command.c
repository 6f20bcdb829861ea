/* fire.c: kilnstow fire. */
#include "cli/frame/cli.h"

#include "app/answers/answer.h"
#include "app/fire_run.h"
#include "cli/fire_told.h"

#include <stdio.h>
#include <string.h>

static bool cooling_read(const char *word, ks_cool_by *out)
{
    static const char *const words[] = {"shut", "vent", "damper", "lid"};
    for (int i = 0; word && i < 4; i++)
        if (strcmp(word, words[i]) == 0) {
            *out = (ks_cool_by)(KS_COOLS_SHUT + i);
            return true;
        }
    return !word;
}

static ks_status fire_asked(ks_cli *cli, ks_fire_job *job, const char *cool_by,
                            ks_fire_outcome *outcome)
{
    if (!cooling_read(cool_by, &job->options.cool_by))
        return ks_fail(&cli->err, KS_BAD_USAGE,
                       "--cool-by: must be shut, vent, damper or lid, not \"%s\"", cool_by);
    if (job->book_path && job->options.as_built != 1)
        return ks_fail(&cli->err, KS_BAD_USAGE,
                       "--as-built: found beside --book, which tells it; give one of the two");
    ks_status status = ks_cli_output_check(cli, job->curve_path);
    return status ? status : ks_fire_run(job, &cli->arena, outcome, &cli->err);
}

static void tell(ks_cli *cli, const ks_fire_outcome *outcome)
{
    if (cli->parsed.json)
        fputs(ks_answer_fire(outcome, &cli->arena), stdout);
    for (int i = 0; i < outcome->n_loads && !cli->parsed.json; i++)
        ks_cli_fire_told(outcome, i, &cli->arena);
    if (!cli->parsed.json)
        ks_cli_fire_cautions_told(outcome);
}

static const char fire_examples[] =
    "  kilnstow fire plan.json\n"
    "  kilnstow fire plan.json --volts 208 --curve curve.pdf\n"
    "  kilnstow fire plan.json --load 1 --measured recorder.csv --curve curve.pdf\n"
    "  kilnstow fire plan.json --elements-worn 10 --schedule \"slow cool\"";

int ks_cli_fire(int argc, char **argv)
{
    ks_fire_job job = {.options = ks_fire_default()};
    const char *cool_by = NULL;
    double worn_percent = 0, full_percent = 100;
    job.options.range = job.options.cooling = job.options.pace = true;
    const ks_option options[] = {
        {"load", 0, "N", KS_OPT_COUNT, &job.load, 1, 10000, "this load only"},
        {"schedule", 's', "WHICH", KS_OPT_TEXT, &job.schedule, 0, 0,
         "a schedule's file, the id of one in the order, or a kind to work out"},
        {"volts", 0, "V", KS_OPT_NUMBER, &job.options.volts, 1, 1000, "at the kiln under load"},
        {"elements-worn", 0, "PERCENT", KS_OPT_NUMBER, &worn_percent, 0, 200,
         "rise of the elements' resistance since new"},
        {"ware", 0, "PERCENT", KS_OPT_NUMBER, &full_percent, 0, 100,
         "how much of the load's ware is really in it, on the same shelves"},
        {"room", 0, "TEMP", KS_OPT_TEXT, &job.room, 0, 0, "temperature of the room, 20 C"},
        {"vent-off", 0, "TEMP", KS_OPT_TEXT, &job.vent_off, 0, 0,
         "shut the vent above this temperature"},
        {"cool-by", 0, "HOW", KS_OPT_TEXT, &cool_by, 0, 0,
         "once it is off: shut (electric, usual), vent, damper (gas, usual, from 250 C) or lid "
         "(propped by 100 mm)"},
        {"cool-from", 0, "TEMP", KS_OPT_TEXT, &job.cool_from, 0, 0,
         "and that only below this temperature"},
        {"as-built", 0, "FACTOR", KS_OPT_NUMBER, &job.options.as_built, 0.2, 5,
         "on the lining's conductance, from the kiln's own meter; 1"},
        {"materials", 0, "FILE", KS_OPT_TEXT, &job.materials_path, 0, 0,
         "the studio's own materials, beside those built in"},
        {"measured", 0, "FILE", KS_OPT_TEXT, &job.measured_path, 0, 0,
         "a recorder's curve of this firing as .csv, laid over the simulated one"},
        {"curve", 'o', "FILE", KS_OPT_TEXT, &job.curve_path, 0, 0,
         "the curve as .csv, .json, .pdf, .svg or .png; - is CSV to standard output"},
        KS_OPTION_TUNED(&job.book_path),
        KS_OPTION_FORCE(&job.force),
    };
    const ks_command command = {"fire",
                                "simulates the firing of each load of a plan",
                                "PLAN",
                                1,
                                1,
                                fire_examples,
                                "Exit status: 0 every piece sees the cone it asks for and bears "
                                "the schedule, 1 one does not.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_fire_outcome outcome = {0};
    job.plan_path = cli.parsed.args[0];
    job.load--;
    job.options.elements_worn = worn_percent / 100;
    job.options.ware_fraction = full_percent / 100;
    if (fire_asked(&cli, &job, cool_by, &outcome))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    ks_cli_output_done(job.curve_path);
    tell(&cli, &outcome);
    return ks_cli_finish(&cli,
                         ks_fire_all_reached(&outcome) && ks_fire_all_borne(&outcome) ? 0 : 1);
}
