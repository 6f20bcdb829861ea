#include "web/program.h"

#include "app/machine/keep_to.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#define MEMORY_MOST ((rlim_t)2 << 30)
#define FILE_MOST ((rlim_t)256 << 20)
enum { SAID_MOST = 500 };

static void limit(__rlimit_resource_t what, rlim_t most)
{
    const struct rlimit both = {most, most};
    (void)setrlimit(what, &both);
}

void ks_program_seconds(int seconds)
{
    struct rlimit now;
    struct rusage used;
    if (getrlimit(RLIMIT_CPU, &now) != 0 || getrusage(RUSAGE_SELF, &used) != 0)
        return;
    now.rlim_cur = (rlim_t)(used.ru_utime.tv_sec + used.ru_stime.tv_sec + 1 + seconds);
    (void)setrlimit(RLIMIT_CPU, &now);
}

void ks_program_limit(int kept, int seconds)
{
    if (kept > STDERR_FILENO + 1)
        (void)close_range(STDERR_FILENO + 1, (unsigned)kept - 1, 0);
    (void)close_range(kept > STDERR_FILENO ? (unsigned)kept + 1 : STDERR_FILENO + 1, ~0U, 0);
    ks_program_seconds(seconds);
    limit(RLIMIT_FSIZE, FILE_MOST);
    limit(RLIMIT_CORE, 0);
#ifndef __SANITIZE_ADDRESS__ /* whose shadow alone is larger */
    limit(RLIMIT_AS, MEMORY_MOST);
#endif
    (void)signal(SIGXFSZ, SIG_IGN); /* told as any disk that is full */
}

bool ks_program_stands_in(const char *folder)
{
    int nothing = open("/dev/null", O_RDWR);
    if (nothing < 0 || dup2(nothing, STDIN_FILENO) < 0 || dup2(nothing, STDOUT_FILENO) < 0)
        return false;
    (void)close(nothing);
    return chdir(folder) == 0;
}

static _Noreturn void be_the_program(const ks_program_start *start, int out, int said)
{
    int nothing = open("/dev/null", O_RDONLY);
    (void)prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (nothing < 0 || dup2(nothing, STDIN_FILENO) < 0 || dup2(out, STDOUT_FILENO) < 0 ||
        dup2(said, STDERR_FILENO) < 0 || chdir(start->trial ? start->trial : start->folder) != 0)
        _exit(KS_SYSTEM);
    ks_program_limit(-1, KS_PROGRAM_SECONDS);
    (void)setenv(KS_VARIABLE_FOLDER, start->folder, 1);
    if (start->trial)
        (void)setenv(KS_VARIABLE_TRY, start->trial, 1);
    if (start->language)
        (void)setenv("KILNSTOW_JSON_LANGUAGE", start->language, 1);
    (void)execv("/proc/self/exe", (char *const *)(uintptr_t)start->words);
    _exit(KS_SYSTEM);
}

ks_status ks_program_start_it(const ks_program_start *start, ks_program *out, ks_error *err)
{
    int ends[2];
    *out = (ks_program){0};
    int said = memfd_create("said", MFD_CLOEXEC);
    if (said < 0 || pipe2(ends, O_CLOEXEC) != 0) {
        if (said >= 0)
            (void)close(said);
        return ks_fail(err, KS_SYSTEM, "no pipe to be had to work with: %s", strerror(errno));
    }
    out->pid = fork();
    if (out->pid == 0)
        be_the_program(start, ends[1], said);
    (void)close(ends[1]);
    out->out = ends[0];
    out->said = said;
    if (out->pid > 0)
        return KS_OK;
    (void)close(out->out);
    (void)close(out->said);
    return ks_fail(err, KS_SYSTEM, "no process to be had to work in: %s", strerror(errno));
}

int ks_program_end(ks_program *program, bool kills)
{
    int ended = 0;
    if (kills)
        (void)kill(program->pid, SIGKILL);
    while (waitpid(program->pid, &ended, 0) < 0 && errno == EINTR)
        ;
    (void)close(program->out);
    (void)close(program->said);
    return ended;
}

const char *ks_program_said(const ks_program *program, ks_arena *arena)
{
    char *text = ks_arena_take(arena, SAID_MOST + 1, 1);
    ssize_t got = pread(program->said, text, SAID_MOST, 0);
    text[got > 0 ? got : 0] = '\0';
    text[strcspn(text, "\n")] = '\0';
    return text;
}
