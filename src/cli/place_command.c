/* place.c: kilnstow place. */
#include "cli/frame/cli.h"
#include "cli/frame/plain.h"
#include "cli/summary.h"

#include "app/answers/answer.h"
#include "app/machine/where.h"
#include "base/file.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <unistd.h>

enum { ROUNDS_MOST = 100000, LOADS_MOST = 1000, THREADS_MOST = 64 };

/* All that a signal handler may touch. */
static volatile sig_atomic_t stop_asked, listens;

static void asked_to_stop(int signal_number)
{
    static const char nothing[] = "kilnstow: place: interrupted while the order was read; nothing "
                                  "is written\n";
    if (!listens)
        (void)!write(STDERR_FILENO, nothing, sizeof nothing - 1);
    if (stop_asked || !listens)
        _exit(KS_INTERRUPTED); /* asked twice: at once; the planning process dies with us */
    (void)signal_number;
    stop_asked = 1;
}

static void hear_interrupts(void)
{
    struct sigaction action = {.sa_handler = asked_to_stop, .sa_flags = SA_RESTART};
    sigemptyset(&action.sa_mask);
    (void)sigaction(SIGINT, &action, NULL);
    (void)sigaction(SIGTERM, &action, NULL);
    (void)sigaction(SIGHUP, &action, NULL);
}

typedef struct {
    bool on_terminal;
    double last_told_s;
} telling;

/* On a terminal one line that is written over; else a line every two seconds, and the last. */
static void tell_progress(const ks_progress *progress, double seconds, void *payload)
{
    telling *told = payload;
    bool due = told->on_terminal || progress->last || seconds - told->last_told_s >= 2;
    if (seconds < 0.5 || !due)
        return;
    told->last_told_s = seconds;
    if (told->on_terminal)
        ks_plain_wipe_line();
    fprintf(stderr,
            ks_tr_count(progress->loads,
                        "round %d of %d: %d of %d pieces in %d load, worth %.1f of at most %.1f",
                        "round %d of %d: %d of %d pieces in %d loads, worth %.1f of at most %.1f"),
            progress->round, progress->rounds, progress->placed, progress->wanted, progress->loads,
            progress->worth, progress->bound);
    if (progress->filled > 0)
        fprintf(stderr, ", and %d that fit besides", progress->filled);
    fputs(told->on_terminal ? "" : "\n", stderr);
    fflush(stderr);
}

static void tell_outcome(const ks_place_outcome *outcome, const ks_place_job *job)
{
    ks_summary_worth(outcome->plan, stdout);
    if (outcome->fewer)
        ks_summary_fewer(outcome->fewer, stdout);
    ks_summary_owners(outcome->plan, stdout);
    ks_summary_loads(outcome->plan, stdout);
    ks_summary_late(outcome->plan, stdout);
    ks_summary_waits(outcome->plan, stdout);
    if (outcome->stood > 0)
        printf("\n%d of %d pieces of the earlier plan stand where they stood.\n", outcome->stayed,
               outcome->stood);
    ks_summary_kept(outcome->plan, outcome->free_worth, stdout);
    ks_summary_warnings(outcome->plan->order, stderr);
    for (int i = 0; i < outcome->n_notes; i++)
        fprintf(stderr, "kilnstow: %s\n", outcome->notes[i]);
    if (outcome->exit == KS_BUG) {
        fprintf(stderr,
                "kilnstow: this plan fails its own check; it is not written. Please report it "
                "with the order and the seed.\n");
        ks_arena arena = {0};
        fputs(ks_check_words(&outcome->report, outcome->plan, &arena), stderr);
        ks_arena_finish(&arena);
        return;
    }
    ks_summary_assume(outcome->plan->order, job->order_path, stdout);
    if (outcome->written && ks_path_is_standard(outcome->written))
        printf("\nChecked, and written to standard output.\n");
    else if (outcome->written)
        printf("\nChecked, and written to %s. Next: kilnstow draw %s -o sheets.pdf\n",
               outcome->written, outcome->written);
    else if (outcome->exit != KS_SYSTEM)
        printf("\nChecked, not written. Add -o plan.json to keep it.\n");
}

static int answer_place(ks_cli *cli, ks_place_job *job, bool quiet)
{
    telling told = {.on_terminal = isatty(STDERR_FILENO) != 0};
    job->order_path = cli->parsed.args[0];
    job->kiln_folder = ks_where_kilns(&cli->arena);
    job->told = quiet ? NULL : tell_progress;
    job->payload = &told;
    hear_interrupts();
    ks_place_outcome outcome;
    ks_status status =
        job->options.keep_shelves && !job->from_path
            ? ks_fail(&cli->err, KS_BAD_USAGE,
                      "--keep-shelves keeps those of an earlier plan: add --from PLAN")
            : ks_cli_output_check(cli, job->plan_path);
    if (!status)
        status = ks_place_run(job, &cli->arena, &outcome, &cli->err);
    ks_cli_output_done(job->plan_path);
    if (told.on_terminal && told.last_told_s > 0)
        ks_plain_wipe_line();
    if (status)
        return ks_cli_failed(cli);
    if (cli->parsed.json)
        fputs(ks_answer_place(&outcome, &cli->arena), stdout);
    else
        tell_outcome(&outcome, job);
    return outcome.exit;
}

int ks_cli_place(int argc, char **argv)
{
    ks_place_job job = {.options = ks_place_default(),
                        .seconds = INFINITY,
                        .stop = &stop_asked,
                        .listens = &listens};
    bool quiet = false;
    const ks_option options[] = {
        {"columns", 0, "WORDS", KS_OPT_TEXT, &job.columns, 0, 0, KS_COLUMNS_HELP},
        {"output", 'o', "PLAN", KS_OPT_TEXT, &job.plan_path, 0, 0,
         "write the plan to this file, or - for standard output"},
        {"rounds", 'r', "N", KS_OPT_COUNT, &job.options.rounds, 0, ROUNDS_MOST,
         "how many rounds of search; decides the answer"},
        {"seconds", 's', "S", KS_OPT_NUMBER, &job.seconds, 0, 1e7,
         "end early after so long with the best so far"},
        {"loads", 'l', "N", KS_OPT_COUNT, &job.options.loads, 1, LOADS_MOST,
         "no more loads than this; the order's dates tell which"},
        {"from", 'f', "PLAN", KS_OPT_TEXT, &job.from_path, 0, 0,
         "an earlier plan: what can stay where it stood does, at no cost"},
        {"book", 0, "FILE", KS_OPT_TEXT, &job.book_path, 0, 0,
         "the studio's record: what its last plans left out twice goes first"},
        {"keep-shelves", 0, NULL, KS_OPT_FLAG, &job.options.keep_shelves, 0, 0,
         "with --from: shelves and posts stay as they are in that plan"},
        {"seed", 0, "N", KS_OPT_SEED, &job.options.seed, 0, 0,
         "another seed looks elsewhere; the same gives the same plan"},
        {"threads", 't', "N", KS_OPT_COUNT, &job.options.threads, 1, THREADS_MOST,
         "processors to use; never changes the answer"},
        {"export", 0, "FILE", KS_OPT_TEXT, &job.options.export_to, 0, 0,
         "write the problem of choosing levels as .lp or .mps"},
        KS_OPTION_FORCE(&job.force),
        {"quiet", 'q', NULL, KS_OPT_FLAG, &quiet, 0, 0, "no progress on standard error"},
    };
    const ks_command command = {
        "place",
        "plans the load or loads of an order",
        "ORDER",
        1,
        1,
        "  kilnstow place order.json -o plan.json\n"
        "  kilnstow place order.json --seconds 30 --threads 2 -o plan.json\n"
        "  kilnstow place order.json --from plan.json -o changed.json",
        "ORDER may be -, standard input; files it names are then looked for in the current "
        "folder.\n"
        "Ctrl-C ends the search and keeps the best plan so far; a second one ends at once. A long\n"
        "search keeps its best in PLAN.part, from which --from can go on.\n"
        "Exit status: 0 planned, 1 a piece that must go was left out, 3 the order cannot be used,\n"
        "4 a file could not be read or written, 5 stopped without an answer, 130 interrupted.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, answer_place(&cli, &job, quiet));
}
