#include "web/job_child.h"

#include "app/answers/answer.h"
#include "app/machine/keep_to.h"
#include "app/machine/where.h"
#include "base/language.h"
#include "base/text.h"
#include "studio/files/plan_file.h"
#include "web/program.h"

#include <string.h>
#include <unistd.h>

/* All that a signal handler may touch; of the one job that this process has. */
static volatile sig_atomic_t stop_asked;

static void stop(void *payload)
{
    (void)payload;
    stop_asked = 1;
}

typedef struct {
    int up;
    ks_text last; /* the plan said last, as in a file; a plan that is answered at once is brief */
} talk;

static void say_progress(const ks_progress *progress, double seconds, void *payload)
{
    const ks_job_pace pace = {*progress, seconds};
    (void)ks_child_say(((const talk *)payload)->up, KS_JOB_PROGRESS,
                       (ks_saying){&pace, sizeof pace}, (ks_saying){0});
}

static void say_plan(const char *text, size_t length, void *payload)
{
    talk *t = payload;
    t->last.length = 0;
    ks_text_add_n(&t->last, text, length);
    (void)ks_child_say(t->up, KS_JOB_PLAN, (ks_saying){0}, (ks_saying){text, length});
}

static void say_end(int up, int exit_status, const char *answer)
{
    (void)ks_child_say(up, KS_JOB_ENDED, (ks_saying){&exit_status, sizeof exit_status},
                       (ks_saying){answer, strlen(answer)});
}

/* The plan has the same bytes whoever reads it; the answer is told in the reader's language. */
static void plan_and_say(talk *t, const ks_place_job *job, const char *language, ks_arena *arena)
{
    ks_error err = {0};
    ks_place_outcome outcome;
    (void)ks_language_use(language ? language : "en");
    if (ks_place_run(job, arena, &outcome, &err)) {
        say_end(t->up, (int)err.status, ks_answer_failure("place", &err, arena));
        return;
    }
    (void)ks_language_use("en");
    const char *text = t->last.length > 0
                           ? ks_plan_retold(outcome.plan, ks_text_end(&t->last), arena)
                           : ks_plan_json(outcome.plan, arena);
    if (outcome.exit != KS_BUG)
        say_plan(text, strlen(text), t);
    (void)ks_language_use(language ? language : "en");
    say_end(t->up, outcome.exit, ks_answer_place(&outcome, arena));
}

void ks_job_in_child(int up, void *payload)
{
    ks_job_work *work = payload;
    ks_arena arena = {0};
    ks_place_job job = work->job;
    talk t = {.up = up, .last.arena = &arena};
    ks_child_on_hurry(stop, NULL);
    ks_program_limit(up, KS_JOB_SECONDS);
    ks_keep_to(work->folder, work->trial);
    job.kiln_folder = ks_where_kilns(&arena);
    job.stop = &stop_asked;
    job.told = say_progress;
    job.better = say_plan;
    job.payload = &t;
    if (ks_program_stands_in(work->trial ? work->trial : work->folder))
        plan_and_say(&t, &job, work->language, &arena);
    else
        say_end(up, KS_SYSTEM, "");
    ks_arena_finish(&arena);
}
