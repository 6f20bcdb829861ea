/* kilnstow serve: the local page. */
#include "cli/frame/cli.h"

#include "web/serve.h"

#include <signal.h>
#include <stdio.h>

/* All that a signal handler may touch. */
static volatile sig_atomic_t stop_asked;

static void asked_to_stop(int signal_number)
{
    (void)signal_number;
    stop_asked = 1;
}

static void hear_signals(void)
{
    static const int ends[] = {SIGINT, SIGTERM, SIGHUP};
    struct sigaction action = {.sa_handler = asked_to_stop};
    sigemptyset(&action.sa_mask);
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
        (void)sigaction(ends[i], &action, NULL);
    (void)signal(SIGPIPE, SIG_IGN); /* who went away is noticed where it is written to */
}

static void tell_address(const char *address, void *payload)
{
    (void)payload;
    fputs(address, stdout);
    fputc('\n', stdout);
    fflush(stdout);
    fprintf(stderr, "Open this address in a browser on this machine; Ctrl-C ends it.\n");
}

int ks_cli_serve(int argc, char **argv)
{
    ks_serve_job job = {.folder = ".", .port = -1, .stop = &stop_asked, .told = tell_address};
    const ks_option options[] = {
        {"port", 'p', "N", KS_OPT_COUNT, &job.port, 0, 65535,
         "of this machine's own address; 0 takes any that is free, 7464 unless told"},
    };
    const ks_command command = {
        "serve",
        "opens the local page on a folder of orders and plans",
        "[FOLDER]",
        0,
        1,
        "  kilnstow serve\n"
        "  kilnstow serve saturday --port 7465",
        "The first line it prints is the page's address, with a token that is new each time. Only\n"
        "programs on this machine can reach it, and nothing outside FOLDER is read or written.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    if (cli.parsed.n_args > 0)
        job.folder = cli.parsed.args[0];
    hear_signals();
    ks_status status = ks_serve(&job, &cli.err);
    return ks_cli_finish(&cli, status ? ks_cli_failed(&cli) : KS_OK);
}
