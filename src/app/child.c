#include "app/child.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

enum { READ_AT_ONCE = 64 * 1024 };

/* What stands before each message in the pipe, and as long as what any type is aligned to. */
typedef union {
    struct {
        int kind;
        size_t length;
    } of;
    max_align_t aligned;
} envelope;

/* Of the one work that a child does. */
static struct {
    void (*call)(void *payload);
    void *payload;
} on_hurry;

static void hurried(int signal_number)
{
    (void)signal_number;
    if (on_hurry.call)
        on_hurry.call(on_hurry.payload);
}

void ks_child_on_hurry(void (*call)(void *payload), void *payload)
{
    struct sigaction action = {.sa_handler = hurried, .sa_flags = SA_RESTART};
    sigemptyset(&action.sa_mask);
    on_hurry.call = call;
    on_hurry.payload = payload;
    (void)sigaction(SIGUSR1, &action, NULL);
}

static bool put_all(int fd, ks_saying part)
{
    for (const char *at = part.bytes; part.length > 0;) {
        ssize_t put = write(fd, at, part.length);
        if (put < 0 && errno == EINTR)
            continue;
        if (put < 0)
            return false;
        at += put;
        part.length -= (size_t)put;
    }
    return true;
}

/* Messages follow one another at places that suit any type. */
static size_t padded(size_t length)
{
    return (length + sizeof(envelope)) / sizeof(envelope) * sizeof(envelope);
}

bool ks_child_say(int up, int kind, ks_saying head, ks_saying text)
{
    static const char nothing[sizeof(envelope)];
    envelope before = {.of = {kind, head.length + text.length}};
    ks_saying fill = {nothing, padded(before.of.length) - before.of.length};
    return put_all(up, (ks_saying){&before, sizeof before}) && put_all(up, head) &&
           put_all(up, text) && put_all(up, fill);
}

static _Noreturn void be_the_child(int up, pid_t parent, ks_child_work *work, void *payload)
{
    static const int unheeded[] = {SIGINT, SIGHUP, SIGTERM, SIGPIPE, SIGUSR1};
    (void)prctl(PR_SET_PDEATHSIG, SIGKILL);
    if (getppid() != parent) /* it died before we asked */
        _exit(KS_SYSTEM);
    for (size_t i = 0; i < sizeof unheeded / sizeof *unheeded; i++)
        (void)signal(unheeded[i], SIG_IGN);
    work(up, payload);
    _exit(KS_OK);
}

ks_status ks_child_start(ks_child *child, ks_child_work *work, void *payload, ks_error *err)
{
    int ends[2];
    pid_t parent = getpid();
    *child = (ks_child){0};
    if (pipe2(ends, O_CLOEXEC) != 0)
        return ks_fail(err, KS_SYSTEM, "no pipe to be had to work with: %s", strerror(errno));
    (void)fflush(NULL); /* what waits to be written is written once */
    child->pid = fork();
    if (child->pid == 0) {
        (void)close(ends[0]);
        be_the_child(ends[1], parent, work, payload);
    }
    (void)close(ends[1]);
    child->from = ends[0];
    if (child->pid > 0)
        return KS_OK;
    ks_fail(err, KS_SYSTEM, "no process to be had to work in: %s", strerror(errno));
    (void)close(ends[0]);
    *child = (ks_child){0};
    return KS_SYSTEM;
}

/* The message at the beginning of what was read, if it is there whole. */
static bool next_message(ks_child *child, ks_message *message)
{
    envelope before;
    size_t rest = child->have - child->taken;
    if (child->taken > 0)
        memmove(child->bytes, child->bytes + child->taken, rest);
    child->have = rest;
    child->taken = 0;
    if (rest < sizeof before)
        return false;
    memcpy(&before, child->bytes, sizeof before);
    size_t whole = sizeof before + padded(before.of.length);
    if (rest < whole)
        return false;
    child->taken = whole;
    *message = (ks_message){before.of.kind, child->bytes + sizeof before, before.of.length};
    return true;
}

/* False at the end of the pipe. */
static bool read_some(ks_child *child)
{
    if (child->room - child->have < READ_AT_ONCE) {
        child->room = 2 * child->room + READ_AT_ONCE;
        child->bytes = realloc(child->bytes, child->room);
        if (!child->bytes)
            ks_no_memory();
    }
    ssize_t got = read(child->from, child->bytes + child->have, child->room - child->have);
    if (got > 0)
        child->have += (size_t)got;
    return got > 0 || (got < 0 && errno == EINTR);
}

ks_heard ks_child_hear(ks_child *child, double seconds, ks_message *message)
{
    struct pollfd end = {.fd = child->from, .events = POLLIN};
    int wait_ms = seconds < 1000 ? (int)(seconds * 1000) : 1000 * 1000;
    while (!next_message(child, message)) {
        if (poll(&end, 1, wait_ms) <= 0)
            return KS_HEARD_NOTHING;
        if (!read_some(child)) {
            child->silent = true;
            return KS_HEARD_END;
        }
    }
    return KS_HEARD_MESSAGE;
}

void ks_child_hurry(const ks_child *child)
{
    (void)kill(child->pid, SIGUSR1);
}

const char *ks_child_finish(ks_child *child, ks_arena *arena)
{
    int ended = 0;
    if (child->pid <= 0)
        return NULL;
    /* Its end of the pipe closes a moment before it can be waited for. */
    bool alive = !child->silent && waitpid(child->pid, &ended, WNOHANG) == 0;
    if (alive)
        (void)kill(child->pid, SIGKILL);
    if (alive || child->silent)
        while (waitpid(child->pid, &ended, 0) < 0 && errno == EINTR)
            ;
    (void)close(child->from);
    free(child->bytes);
    *child = (ks_child){0};
    if (alive || (WIFEXITED(ended) && WEXITSTATUS(ended) == KS_OK))
        return NULL;
    if (WIFEXITED(ended))
        return WEXITSTATUS(ended) == KS_SYSTEM
                   ? "no memory was left for it"
                   : ks_arena_print(arena, "it ended with status %d", WEXITSTATUS(ended));
    return ks_arena_print(arena, "it was killed by signal %d (%s)", WTERMSIG(ended),
                          strsignal(WTERMSIG(ended)));
}
