/* checker.c: kilnstow-check, the checker as a program of its own. It is linked with nothing that
 * packs, so it can prove a plan to someone who doesn't trust the planner. */
#include "base/version.h"
#include "cli/frame/speech.h"
#include "kilnstow/check.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>

static const char usage[] = KS_WORDS(
    "kilnstow-check PLAN\n\n"
    "Proves that a plan keeps every rule, and tells the tightest places. Nothing that plans is\n"
    "part of this program.\n\n"
    "Exit status: 0 every rule is kept, 1 one is broken, 2 wrong usage, 3 not a plan, 4 the plan\n"
    "could not be read or the answer not be written.\n");

static int finish(int status)
{
    bool written = fflush(stdout) == 0 && !ferror(stdout);
    return written ? status : KS_SYSTEM;
}

static int check_file(const char *path)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_plan *plan;
    ks_check_report report;
    int status = (int)ks_plan_read(path, &arena, &plan, &err);
    if (status) {
        fprintf(stderr, "kilnstow-check: %s\n", err.text);
    } else {
        ks_check(plan, &arena, &report);
        fputs(ks_check_words(&report, plan, &arena), stdout);
        status = report.ok ? 0 : 1;
    }
    ks_arena_finish(&arena);
    return finish(status);
}

int main(int argc, char **argv)
{
    ks_error err = {0};
    (void)signal(SIGXFSZ, SIG_IGN); /* standard output may be a file that is to stay small */
    if (ks_speech_start(1, argv, &err)) {
        fprintf(stderr, "kilnstow-check: %s\n", err.text);
        return KS_BAD_USAGE;
    }
    if (argc == 2 && strcmp(argv[1], "--version") == 0) {
        printf("kilnstow-check %s\n", ks_version);
        return finish(0);
    }
    bool help = argc == 2 && strcmp(argv[1], "--help") == 0;
    if (argc != 2 || argv[1][0] == '-') {
        fputs(ks_tr(usage), help ? stdout : stderr);
        return help ? finish(0) : KS_BAD_USAGE;
    }
    return check_file(argv[1]);
}
