#include "web/command_call.h"

#include "app/watch.h"
#include "base/path.h"
#include "base/text.h"
#include "web/asked.h"
#include "web/page_file.h"
#include "web/program.h"
#include "web/server.h"
#include "web/trial.h"

#include <math.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

enum { READ_AT_ONCE = 64 * 1024, GIVEN_MOST = 64 * 1024 * 1024 };

/* A command that runs for a call, or waits for its turn. In the call's arena. */
typedef struct {
    ks_errand errand; /* first, so that it can be told from it */
    ks_call *call;
    ks_asked asked;
    const char *trial; /* its folder, NULL = it works in the opened one */
    ks_program program;
    bool runs;
    ks_text answer;
} command_run;

static void start_next(ks_server *server);

/* The command's words: its own --json behind those that say which command it is. */
static const char *const *words_of(const command_run *run)
{
    const ks_asked *asked = &run->asked;
    const char *name = run->call->route.rest;
    const char **words = KS_TAKE(&run->call->arena, asked->n_args + 4, const char *);
    int n = 0, own = strcmp(name, "log") == 0 && asked->n_args > 0 ? 1 : 0;
    words[n++] = "kilnstow";
    words[n++] = name;
    if (own)
        words[n++] = asked->args[0];
    words[n++] = "--json";
    for (int i = own; i < asked->n_args; i++)
        words[n++] = asked->args[i];
    return words;
}

/* The end of a run, whatever it came to: its answer is made by now. */
static void end_run(command_run *run)
{
    ks_server *server = run->call->server;
    ks_errands_remove(&server->errands, &run->errand);
    ks_trial_remove(run->trial);
    if (run->runs)
        server->commands--;
    ks_call_wake(run->call);
    start_next(server);
}

static void fail(command_run *run, int status, const char *why)
{
    ks_reply_failure(run->call, status, why);
}

/* The file that the command made, if it made it here. */
static void give(command_run *run, const char *exit_status)
{
    struct stat about;
    ks_bytes bytes;
    ks_error err = {0};
    const char *name = run->asked.give, *type = ks_media_type(name);
    const char *path = ks_path_join(run->trial, name, &run->call->arena);
    if (lstat(path, &about) != 0 || !S_ISREG(about.st_mode))
        fail(run, 422, "the command has made no file of the name that is to be given");
    else if (ks_file_read(path, GIVEN_MOST, &run->call->arena, &bytes, &err))
        fail(run, 500, err.text);
    else {
        ks_reply(run->call, 200, type ? type : "application/octet-stream", bytes);
        ks_reply_header(run->call, "Kilnstow-Exit", exit_status);
    }
}

static void tell_signal(command_run *run, int signal_number)
{
    bool late = signal_number == SIGXCPU;
    fail(run, late ? 504 : 500,
         late ? "the command took more than 120 s of the processor; it was ended"
              : ks_arena_print(&run->call->arena, "the command was ended by signal %d",
                               signal_number));
}

static void tell_answer(command_run *run, int exit_status, const char *said)
{
    const char *text = ks_text_end(&run->answer);
    const char *told = ks_arena_print(&run->call->arena, "%d", exit_status);
    if (*text != '{') {
        fail(run, 500,
             ks_arena_print(&run->call->arena, "the command ended with status %d and no answer: %s",
                            exit_status, said));
        return;
    }
    if (run->asked.give && exit_status <= 1) {
        give(run, told);
        return;
    }
    ks_reply(run->call, run->asked.give ? 422 : 200, "application/json",
             (ks_bytes){text, run->answer.length});
    ks_reply_header(run->call, "Kilnstow-Exit", told);
}

static void finish(command_run *run)
{
    const char *said = ks_program_said(&run->program, &run->call->arena);
    int ended = ks_program_end(&run->program, false);
    if (WIFSIGNALED(ended))
        tell_signal(run, WTERMSIG(ended));
    else
        tell_answer(run, WEXITSTATUS(ended), said);
    end_run(run);
}

static void break_off(command_run *run, int status, const char *why)
{
    if (run->runs)
        (void)ks_program_end(&run->program, true);
    fail(run, status, why);
    end_run(run);
}

static void hear(ks_errand *errand, bool is_late)
{
    command_run *run = (command_run *)errand;
    char bytes[READ_AT_ONCE];
    if (is_late) {
        break_off(run, 504, "the command took more than 120 s; it was ended");
        return;
    }
    ssize_t got = read(run->program.out, bytes, sizeof bytes);
    if (got > 0)
        ks_text_add_n(&run->answer, bytes, (size_t)got);
    if (run->answer.length > KS_PROGRAM_ANSWER_MOST)
        break_off(run, 500, "the command's answer is longer than 16 MiB");
    else if (got == 0)
        finish(run);
}

static void start(command_run *run)
{
    ks_server *server = run->call->server;
    ks_error err = {0};
    ks_status status = KS_OK;
    if (run->asked.n_files > 0 || run->asked.give)
        status = ks_trial_make(server->folder, run->asked.n_files, run->asked.files,
                               &run->call->arena, &run->trial, &err);
    const ks_program_start how = {server->folder, run->trial, run->asked.language, words_of(run)};
    if (!status)
        status = ks_program_start_it(&how, &run->program, &err);
    if (status) {
        break_off(run, 503, err.text);
        return;
    }
    run->runs = true;
    server->commands++;
    run->errand.fd = run->program.out;
    run->errand.until = ks_watch_now() + KS_PROGRAM_SECONDS;
}

/* Whoever has waited longest; the list's newest stands first. */
static void start_next(ks_server *server)
{
    command_run *next = NULL;
    for (ks_errand *at = server->errands.first; at; at = at->next)
        if (at->heard == hear && !((command_run *)at)->runs)
            next = (command_run *)at;
    if (next && server->commands < KS_COMMANDS_MOST)
        start(next);
}

static void give_up(ks_call *call)
{
    break_off(call->errand, 503, "the server is ending");
}

void ks_command_call(ks_call *call)
{
    ks_error err = {0};
    command_run *run = KS_TAKE(&call->arena, 1, command_run);
    *run = (command_run){.call = call, .answer.arena = &call->arena};
    run->errand = (ks_errand){.fd = -1, .until = INFINITY, .heard = hear};
    if (ks_asked_read((ks_bytes){call->body ? call->body : "", call->length}, &call->arena,
                      &run->asked, &err)) {
        ks_reply_failure(call, 400, err.text);
        return;
    }
    call->errand = run;
    call->give_up = give_up;
    ks_call_wait(call);
    ks_errands_add(&call->server->errands, &run->errand);
    start_next(call->server);
}
