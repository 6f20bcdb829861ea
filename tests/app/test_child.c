/* Work in a process of its own: what it says arrives whole and in order, and its death is told. */
#include "app/child.h"
#include "check.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

enum { LONGEST = 3000000, MESSAGES = 60 };

/* Lengths from 0 up to far beyond what a pipe holds. */
static size_t length_of(int i)
{
    return i == MESSAGES - 1 ? LONGEST : (size_t)i * (size_t)i * 97;
}

static void say_many(int up, void *payload)
{
    char *bytes = malloc(LONGEST);
    for (int i = 0; i < MESSAGES; i++) {
        memset(bytes, 'a' + i % 26, LONGEST);
        size_t head = length_of(i) / 3;
        ks_child_say(up, i + 1, (ks_saying){bytes, head},
                     (ks_saying){bytes + head, length_of(i) - head});
    }
    free(bytes);
}

static void messages_arrive_whole_and_in_order(void **state)
{
    ks_child child;
    ks_arena arena = {0};
    ks_message message;
    assert_int_equal(ks_child_start(&child, say_many, NULL, NULL), KS_OK);
    for (int i = 0; i < MESSAGES; i++) {
        ks_heard heard;
        while ((heard = ks_child_hear(&child, 1, &message)) == KS_HEARD_NOTHING)
            ;
        assert_int_equal(heard, KS_HEARD_MESSAGE);
        assert_int_equal(message.kind, i + 1);
        assert_int_equal(message.length, length_of(i));
        assert_int_equal((uintptr_t)message.bytes % _Alignof(max_align_t), 0);
        assert_int_equal(message.bytes[message.length], 0);
        for (size_t b = 0; b < message.length; b++)
            if (message.bytes[b] != 'a' + i % 26)
                fail_msg("byte %zu of message %d", b, i);
    }
    while (ks_child_hear(&child, 1, &message) != KS_HEARD_END)
        ;
    assert_null(ks_child_finish(&child, &arena));
    ks_arena_finish(&arena);
}

static void say_then_die(int up, void *payload)
{
    ks_child_say(up, 7, (ks_saying){"last words", 10}, (ks_saying){0});
    (void)!write(up, "half a message", 14);
    (void)raise(SIGKILL);
}

static void a_death_is_told_and_what_was_said_before_it_is_heard(void **state)
{
    ks_child child;
    ks_arena arena = {0};
    ks_message message;
    ks_heard heard;
    assert_int_equal(ks_child_start(&child, say_then_die, NULL, NULL), KS_OK);
    while ((heard = ks_child_hear(&child, 1, &message)) == KS_HEARD_NOTHING)
        ;
    assert_int_equal(heard, KS_HEARD_MESSAGE);
    assert_string_equal(message.bytes, "last words");
    while ((heard = ks_child_hear(&child, 1, &message)) == KS_HEARD_NOTHING)
        ;
    assert_int_equal(heard, KS_HEARD_END);
    assert_non_null(strstr(ks_child_finish(&child, &arena), "signal 9"));
    ks_arena_finish(&arena);
}

static void want_memory(int up, void *payload)
{
    exit(KS_SYSTEM); /* as ks_no_memory() does */
}

static void want_of_memory_is_told_as_such(void **state)
{
    ks_child child;
    ks_arena arena = {0};
    ks_message message;
    assert_int_equal(ks_child_start(&child, want_memory, NULL, NULL), KS_OK);
    while (ks_child_hear(&child, 1, &message) != KS_HEARD_END)
        ;
    assert_non_null(strstr(ks_child_finish(&child, &arena), "memory"));
    ks_arena_finish(&arena);
}

static volatile sig_atomic_t asked;

static void note_asked(void *payload)
{
    asked = 1;
}

static void wait_until_hurried(int up, void *payload)
{
    ks_child_on_hurry(note_asked, NULL);
    ks_child_say(up, 1, (ks_saying){0}, (ks_saying){0});
    while (!asked)
        usleep(1000);
    ks_child_say(up, 2, (ks_saying){0}, (ks_saying){0});
}

static void a_child_is_hurried_but_heeds_no_other_signal(void **state)
{
    ks_child child;
    ks_arena arena = {0};
    ks_message message = {0};
    assert_int_equal(ks_child_start(&child, wait_until_hurried, NULL, NULL), KS_OK);
    while (message.kind != 1)
        ks_child_hear(&child, 1, &message);
    kill(child.pid, SIGINT);
    kill(child.pid, SIGHUP);
    kill(child.pid, SIGTERM);
    assert_int_equal(ks_child_hear(&child, 0.05, &message), KS_HEARD_NOTHING);
    ks_child_hurry(&child);
    while (ks_child_hear(&child, 1, &message) != KS_HEARD_MESSAGE)
        ;
    assert_int_equal(message.kind, 2);
    assert_null(ks_child_finish(&child, &arena));
    ks_arena_finish(&arena);
}

static void wait_for_ever(int up, void *payload)
{
    pid_t self = getpid();
    ks_child_say(up, 1, (ks_saying){&self, sizeof self}, (ks_saying){0});
    for (;;)
        pause();
}

static void a_child_that_will_not_end_is_ended(void **state)
{
    ks_child child;
    ks_arena arena = {0};
    assert_int_equal(ks_child_start(&child, wait_for_ever, NULL, NULL), KS_OK);
    pid_t pid = child.pid;
    assert_null(ks_child_finish(&child, &arena));
    assert_int_equal(kill(pid, 0), -1);
    assert_null(ks_child_finish(&child, &arena)); /* nothing is left to end */
    ks_arena_finish(&arena);
}

/* Orphans come to us, so that we see them end. */
static void a_child_dies_with_its_parent(void **state)
{
    int pipes[2], ended;
    assert_int_equal(prctl(PR_SET_CHILD_SUBREAPER, 1), 0);
    assert_int_equal(pipe(pipes), 0);
    pid_t parent = fork();
    if (parent == 0) {
        ks_child child;
        ks_message message = {0};
        ks_child_start(&child, wait_for_ever, NULL, NULL);
        while (message.kind != 1)
            ks_child_hear(&child, 1, &message);
        (void)!write(pipes[1], &child.pid, sizeof child.pid);
        (void)raise(SIGKILL);
    }
    pid_t orphan = 0;
    assert_int_equal(read(pipes[0], &orphan, sizeof orphan), sizeof orphan);
    assert_int_equal(waitpid(parent, &ended, 0), parent);
    assert_int_equal(waitpid(orphan, &ended, 0), orphan); /* the test's own limit is the watchdog */
    assert_true(WIFSIGNALED(ended) && WTERMSIG(ended) == SIGKILL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(messages_arrive_whole_and_in_order),
        cmocka_unit_test(a_death_is_told_and_what_was_said_before_it_is_heard),
        cmocka_unit_test(want_of_memory_is_told_as_such),
        cmocka_unit_test(a_child_is_hurried_but_heeds_no_other_signal),
        cmocka_unit_test(a_child_that_will_not_end_is_ended),
        cmocka_unit_test(a_child_dies_with_its_parent),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
