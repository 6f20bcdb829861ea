/* draw.c: kilnstow draw. */
#include "cli/frame/cli.h"

#include "app/answers/answer.h"
#include "base/file.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum {
    SHEET_FIRING = 1 << 20,
    SHEET_COSTS = 1 << 21,
    SHEET_PRICES = 1 << 22
}; /* made by the app, not by the plan alone */

static const struct {
    const char *name;
    unsigned sheet;
} sheet_names[] = {
    {"prices", SHEET_PRICES},        {"firing", SHEET_FIRING},    {"costs", SHEET_COSTS},
    {"overview", KS_SHEET_OVERVIEW}, {"levels", KS_SHEET_LEVELS}, {"side", KS_SHEET_SIDE},
    {"list", KS_SHEET_LIST},         {"record", KS_SHEET_RECORD}, {"forms", KS_SHEET_FORMS},
    {"all", KS_SHEET_ALL},           {"wall", KS_SHEET_WALL},     {"measure", KS_SHEET_MEASURE},
    {"mat", KS_SHEET_MAT},
};

/* "overview,levels" as bits. */
static ks_status choose_sheets(const char *text, unsigned *sheets, ks_error *err)
{
    for (*sheets = 0; *text; text += *text == ',') {
        size_t length = strcspn(text, ","), i = 0;
        for (; i < sizeof sheet_names / sizeof *sheet_names; i++)
            if (strlen(sheet_names[i].name) == length &&
                strncmp(sheet_names[i].name, text, length) == 0)
                break;
        if (i == sizeof sheet_names / sizeof *sheet_names)
            return ks_fail(
                err, KS_BAD_USAGE,
                "--sheets: found \"%s\"; it takes some of overview, levels, side, list, "
                "record, forms, firing, costs, prices, wall, measure, mat or all, with commas "
                "between",
                text);
        *sheets |= sheet_names[i].sheet;
        text += length;
    }
    return KS_OK;
}

/* What the words of the command line mean. */
static ks_status read_words(ks_draw_job *job, const char *sheets, const char *paper, int load,
                            ks_error *err)
{
    job->options.load = load - 1;
    if (!job->out_path)
        return ks_fail(err, KS_BAD_USAGE,
                       "draw: where to? Add -o sheets.pdf, .svg, .png, .html or .ics");
    if (strcmp(paper, "a4") != 0 && strcmp(paper, "letter") != 0)
        return ks_fail(err, KS_BAD_USAGE, "--paper: found \"%s\"; it takes a4 or letter", paper);
    job->options.paper = *paper == 'a' ? KS_A4 : KS_LETTER;
    ks_status status = sheets ? choose_sheets(sheets, &job->options.sheets, err) : KS_OK;
    job->firing = (job->options.sheets & SHEET_FIRING) != 0;
    job->costs.tables = (job->options.sheets & SHEET_COSTS) != 0;
    job->costs.prices = (job->options.sheets & SHEET_PRICES) != 0;
    if (!status && job->costs.prices && ks_path_ends(job->out_path, ".html"))
        status = ks_fail(err, KS_BAD_USAGE, "a %s is drawn as PDF, SVG or PNG", "price list");
    job->options.sheets &= KS_SHEET_ALL | KS_SHEET_MORE;
    return status;
}

static void tell_outcome(const ks_draw_outcome *outcome)
{
    for (int i = 0; i < outcome->drawing.n_warnings; i++)
        fprintf(stderr, "worth a look: %s\n", outcome->drawing.warnings[i]);
    for (int i = 0; i < outcome->drawing.n_files; i++)
        if (!ks_path_is_standard(outcome->paths[i]))
            printf("%s\n", outcome->paths[i]);
    if (outcome->drawing.n_sheets == 0)
        return;
    printf(ks_tr_count(outcome->drawing.n_sheets, "%d sheet, plan %.8s. Print at 100 %%.\n",
                       "%d sheets, plan %.8s. Print at 100 %%.\n"),
           outcome->drawing.n_sheets, outcome->plan_hash);
}

static ks_status check_output(ks_cli *cli, const char *path)
{
    if (ks_path_is_standard(path) && isatty(STDOUT_FILENO))
        return ks_fail(&cli->err, KS_BAD_USAGE,
                       "draw: -o - would write a PDF to the terminal; name a file, or lead it on");
    return ks_cli_output_check(cli, path);
}

static ks_status drawn(ks_cli *cli, ks_draw_job *job)
{
    ks_draw_outcome outcome = {0};
    ks_status status = check_output(cli, job->out_path);
    if (!status)
        status = ks_draw_run(job, &cli->arena, &outcome, &cli->err);
    if (status)
        return status;
    ks_cli_output_done(job->out_path);
    if (cli->parsed.json)
        fputs(ks_answer_draw(&outcome, &cli->arena), stdout);
    else
        tell_outcome(&outcome);
    return KS_OK;
}

static const char draw_examples[] =
    "  kilnstow draw plan.json -o sheets.pdf\n"
    "  kilnstow draw plan.json -o load.png --sheets levels --dpi 200\n"
    "  kilnstow draw plan.json -o phone.html\n"
    "  kilnstow draw plan.json -o office.pdf --sheets firing,costs\n"
    "  kilnstow draw plan.json -o firing.ics --start \"2026-11-28 18:00\"";

int ks_cli_draw(int argc, char **argv)
{
    ks_draw_job job = {.options = ks_draw_default()};
    const char *sheets = NULL, *paper = "a4";
    int load = 0;
    const ks_option options[] = {
        {"output", 'o', "FILE", KS_OPT_TEXT, &job.out_path, 0, 0,
         "where to: .pdf, .svg, .png, .html, or .ics for a calendar; - is PDF to standard output"},
        {"sheets", 's', "LIST", KS_OPT_TEXT, &sheets, 0, 0,
         "which: overview,levels,record,forms unless told; or side,list,firing,costs,prices, "
         "wall,measure,mat; all"},
        {"load", 0, "N", KS_OPT_COUNT, &load, 1, 10000, "this load only"},
        {"level", 0, "N", KS_OPT_COUNT, &job.options.level, 1, 1000, "for mat: this level only"},
        {"member", 'm', "ID", KS_OPT_TEXT, &job.options.member, 0, 0,
         "one sheet with this member's pieces only"},
        {"names", 0, NULL, KS_OPT_FLAG, &job.options.full_names, 0, 0,
         "owners by their names; by default initials only"},
        {"class", 0, NULL, KS_OPT_FLAG, &job.options.for_class, 0, 0,
         "for a class: marks what an adult does, names glazes not for children"},
        {"paper", 0, "SIZE", KS_OPT_TEXT, &paper, 0, 0, "a4 or letter"},
        {"dpi", 0, "N", KS_OPT_NUMBER, &job.options.dpi, 50, 600, "dots per inch of PNG, 150"},
        {"font", 0, "FILE", KS_OPT_TEXT, &job.font_path, 0, 0,
         "TrueType or OpenType, for scripts that the built-in font lacks"},
        {"start", 0, "TIME", KS_OPT_TEXT, &job.start, 0, 0,
         "of the firing, for .ics: \"2026-11-28 18:00\""},
        {"date", 0, "TEXT", KS_OPT_TEXT, &job.options.date, 0, 0,
         "the date to stand on the sheets"},
        KS_OPTION_FORCE(&job.force),
    };
    const ks_command command = {
        "draw",
        "makes the sheets of a plan",
        "PLAN",
        1,
        1,
        draw_examples,
        "SVG and PNG make one file for each sheet: load.png becomes load-level-1.png and so on.\n"
        "The date of PDF files is the day's, or what SOURCE_DATE_EPOCH tells: then the same plan "
        "gives the same bytes on any day.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    job.plan_path = cli.parsed.args[0];
    ks_status status = read_words(&job, sheets, paper, load, &cli.err);
    if (!status)
        status = drawn(&cli, &job);
    return ks_cli_finish(&cli, status ? ks_cli_failed(&cli) : KS_OK);
}
