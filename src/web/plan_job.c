#include "web/plan_job.h"

#include "app/answers/answer.h"
#include "app/watch.h"
#include "base/data/fields.h"
#include "base/data/json_out.h"
#include "base/number.h"
#include "web/asked.h"
#include "web/job_child.h"
#include "web/server.h"
#include "web/trial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WAIT_S 20.0 /* that a call waits for news, at most */
#define PACE_S 1.0  /* between two that tell progress alone */
#define HURRY_S 0.5 /* between two wishes that it come to an end */
enum { ROUNDS_MOST = 100000, LOADS_MOST = 1000, THREADS_MOST = 64, HURRIES_MOST = 20 };

typedef enum { JOB_WAITING, JOB_RUNNING, JOB_ENDED } job_state;

struct ks_plan_job {
    ks_errand errand; /* first, so that it can be told from it */
    ks_server *server;
    int number;
    job_state state;
    ks_arena arena; /* of what was asked for */
    ks_asked sent;  /* its files alone */
    ks_job_work work;
    ks_child child;
    int plans;  /* better ones so far */
    char *plan; /* the last; NULL = none yet */
    int paces;  /* told so far */
    ks_job_pace pace;
    char *answer; /* place's own, once it has ended */
    int exit_status, hurries;
    ks_plan_job *next; /* the one begun before */
};

/* A call that waits for news of a job. In the call's arena. */
typedef struct {
    ks_errand errand; /* first, so that it can be told from it */
    ks_call *call;
    ks_plan_job *job;
    int after, paces; /* what the caller knows */
    double gives_up;
} job_watch;

static void start_next(ks_server *server);

static char *copied(const char *text, size_t length)
{
    char *copy = strndup(text, length);
    if (!copy)
        ks_no_memory();
    return copy;
}

static ks_plan_job *find(const ks_server *server, const char *digits)
{
    ks_plan_job *job = server->jobs;
    double number;
    if (ks_number_parse(digits, &number))
        return NULL;
    while (job && job->number != number)
        job = job->next;
    return job;
}

static void add_progress(ks_json_out *out, const ks_plan_job *job)
{
    const ks_progress *p = &job->pace.progress;
    if (job->paces == 0) {
        ks_out_null(out, "progress");
        return;
    }
    ks_out_object_flat(out, "progress");
    ks_out_whole(out, "round", p->round);
    ks_out_whole(out, "rounds", p->rounds);
    ks_out_whole(out, "placed", p->placed);
    ks_out_whole(out, "wanted", p->wanted);
    ks_out_whole(out, "fill", p->filled);
    ks_out_whole(out, "loads", p->loads);
    ks_out_number(out, "worth", p->worth);
    ks_out_number(out, "bound", p->bound);
    ks_out_number(out, "seconds", job->pace.seconds);
    ks_out_end(out);
}

static void reply_job(ks_call *call, int status, const ks_plan_job *job, int after)
{
    static const char *const states[] = {"waiting", "running", "ended"};
    ks_json_out out = {.text.arena = &call->arena};
    ks_out_object(&out, NULL);
    ks_out_whole(&out, "job", job->number);
    ks_out_text(&out, "state", states[job->state]);
    ks_out_whole(&out, "k", job->plans);
    add_progress(&out, job);
    if (job->plan && job->plans > after)
        ks_out_json(&out, "plan", job->plan);
    else
        ks_out_null(&out, "plan");
    if (job->state == JOB_ENDED) {
        ks_out_whole(&out, "exit", job->exit_status);
        ks_out_json(&out, "answer", job->answer);
    }
    ks_out_end(&out);
    const char *text = ks_out_done(&out);
    ks_reply(call, status, "application/json", (ks_bytes){text, strlen(text)});
}

static void end_watch(job_watch *watch)
{
    ks_errands_remove(&watch->call->server->errands, &watch->errand);
    reply_job(watch->call, 200, watch->job, watch->after);
    ks_call_wake(watch->call);
}

/* Progress alone is told once a second. */
static void look_again(ks_errand *errand, bool is_late)
{
    job_watch *watch = (job_watch *)errand;
    (void)is_late;
    if (watch->job->paces > watch->paces || ks_watch_now() >= watch->gives_up)
        end_watch(watch);
    else
        errand->until = ks_watch_now() + PACE_S;
}

/* Whoever waits for this job's news has them. */
static void tell_watches(const ks_plan_job *job)
{
    ks_errand *next;
    for (ks_errand *at = job->server->errands.first; at; at = next) {
        next = at->next;
        job_watch *watch = at->heard == look_again ? (job_watch *)at : NULL;
        if (watch && watch->job == job && (job->plans > watch->after || job->state == JOB_ENDED))
            end_watch(watch);
    }
}

static void end_job(ks_plan_job *job, const char *died)
{
    ks_error err = {0};
    if (!job->answer || !*job->answer) {
        ks_fail(&err, KS_SYSTEM, "place: planning broke off: %s",
                died ? died : "it ended without a word");
        const char *text = ks_answer_failure("place", &err, &job->arena);
        free(job->answer);
        job->answer = copied(text, strlen(text));
        job->exit_status = KS_SYSTEM;
    }
    if (job->state == JOB_RUNNING)
        job->server->jobs_running--;
    job->state = JOB_ENDED;
    ks_errands_remove(&job->server->errands, &job->errand);
    ks_trial_remove(job->work.trial);
    tell_watches(job);
    start_next(job->server);
}

static void take(ks_plan_job *job, const ks_message *message)
{
    switch (message->kind) {
    case KS_JOB_PROGRESS:
        memcpy(&job->pace, message->bytes, sizeof job->pace);
        job->paces++;
        return;
    case KS_JOB_PLAN:
        free(job->plan);
        job->plan = copied(message->bytes, message->length);
        job->plans++;
        return;
    case KS_JOB_ENDED:
        memcpy(&job->exit_status, message->bytes, sizeof job->exit_status);
        job->answer = copied(message->bytes + sizeof job->exit_status,
                             message->length - sizeof job->exit_status);
        return;
    }
}

/* It has something to say, or is still there some time after it was asked to end. */
static void hear(ks_errand *errand, bool is_late)
{
    ks_plan_job *job = (ks_plan_job *)errand;
    ks_message message;
    ks_heard heard;
    while ((heard = ks_child_hear(&job->child, 0, &message)) == KS_HEARD_MESSAGE)
        take(job, &message);
    if (heard == KS_HEARD_END || job->hurries > HURRIES_MOST) {
        end_job(job, ks_child_finish(&job->child, &job->arena));
        return;
    }
    tell_watches(job);
    if (is_late) {
        ks_child_hurry(&job->child);
        job->hurries++;
        job->errand.until = ks_watch_now() + HURRY_S;
    }
}

static void start(ks_plan_job *job)
{
    ks_error err = {0};
    ks_status status = KS_OK;
    if (job->sent.n_files > 0)
        status = ks_trial_make(job->work.folder, job->sent.n_files, job->sent.files, &job->arena,
                               &job->work.trial, &err);
    if (!status)
        status = ks_child_start(&job->child, ks_job_in_child, &job->work, &err);
    if (status) {
        end_job(job, err.text);
        return;
    }
    job->state = JOB_RUNNING;
    job->server->jobs_running++;
    job->errand = (ks_errand){.fd = job->child.from, .until = INFINITY, .heard = hear};
    ks_errands_add(&job->server->errands, &job->errand);
}

/* The oldest that waits; the newest stands first. */
static void start_next(ks_server *server)
{
    ks_plan_job *oldest = NULL;
    for (ks_plan_job *job = server->jobs; job; job = job->next)
        if (job->state == JOB_WAITING)
            oldest = job;
    if (oldest && server->jobs_running < KS_JOBS_MOST)
        start(oldest);
}

static void free_job(ks_plan_job *job)
{
    ks_arena_finish(&job->arena);
    free(job->plan);
    free(job->answer);
    free(job);
}

/* Only the last that have ended are remembered. */
static void forget_old(ks_server *server)
{
    int ended = 0;
    for (ks_plan_job **at = &server->jobs; *at;) {
        ks_plan_job *job = *at;
        if (job->state == JOB_ENDED && ++ended > KS_JOBS_KEPT) {
            *at = job->next;
            free_job(job);
        } else {
            at = &job->next;
        }
    }
}

/* What is asked for, as its keys have it. */
typedef struct {
    const char *order, *plan, *from, *book, *columns;
    int rounds, seed, loads, threads;
    double seconds;
    bool keep_shelves, force;
    const ks_json *files;
} wish;

static ks_status read_wish(const ks_json *top, ks_arena *arena, wish *out, ks_error *err)
{
    static const ks_field fields[] = {
        KS_FIELD(NAME, wish, order, "order", .required = true),
        KS_FIELD(NAME, wish, plan, "plan"),
        KS_FIELD(NAME, wish, from, "from"),
        KS_FIELD(NAME, wish, book, "book"),
        KS_FIELD(TEXT, wish, columns, "columns"),
        KS_FIELD(WHOLE, wish, rounds, "rounds", .most = ROUNDS_MOST),
        KS_FIELD(WHOLE, wish, seed, "seed", .most = 1e9),
        KS_FIELD(WHOLE, wish, loads, "loads", .least = 1, .most = LOADS_MOST),
        KS_FIELD(WHOLE, wish, threads, "threads", .least = 1, .most = THREADS_MOST),
        KS_FIELD(NUMBER, wish, seconds, "seconds", .most = 1e7),
        KS_FIELD(BOOL, wish, keep_shelves, "keep_shelves"),
        KS_FIELD(BOOL, wish, force, "force"),
        KS_FIELD_KNOWN("files"),
        KS_FIELD_KNOWN("language"),
    };
    const ks_field_reader reader = {.arena = arena, .err = err};
    const char *const *paths[] = {&out->order, &out->plan, &out->from, &out->book};
    ks_status status = KS_FIELDS_READ(top, fields, &reader, out);
    for (size_t i = 0; i < sizeof paths / sizeof *paths && !status; i++)
        if (*paths[i] && **paths[i] == '-')
            status = ks_fail(err, KS_BAD_INPUT,
                             "found \"%s\"; it takes the name of a file of the opened folder",
                             *paths[i]);
    if (!status && out->keep_shelves && !out->from)
        status = ks_fail(err, KS_BAD_INPUT,
                         "keep_shelves keeps those of an earlier plan: name it in from");
    return status;
}

static ks_status read_job(ks_call *call, ks_plan_job *job, ks_error *err)
{
    const ks_json *top;
    const ks_place_options usual = ks_place_default();
    wish w = {.rounds = usual.rounds, .threads = usual.threads, .seed = (int)usual.seed};
    w.seconds = INFINITY;
    ks_bytes body = {ks_arena_text_n(&job->arena, call->body ? call->body : "", call->length),
                     call->length};
    ks_status status = ks_asked_tree(body, &job->arena, &top, err);
    if (!status)
        status = read_wish(top, &job->arena, &w, err);
    if (!status)
        status = ks_asked_files(ks_json_get(top, "files"), &job->arena, &job->sent, err);
    if (!status)
        status = ks_asked_language(ks_json_get(top, "language"), &job->work.language, err);
    ks_place_job *place = &job->work.job;
    *place = (ks_place_job){.order_path = w.order, .plan_path = w.plan, .from_path = w.from};
    place->book_path = w.book;
    place->columns = w.columns;
    place->force = w.force;
    place->seconds = w.seconds;
    place->options = usual;
    place->options.rounds = w.rounds;
    place->options.seed = (uint64_t)w.seed;
    place->options.loads = w.loads;
    place->options.threads = w.threads;
    place->options.keep_shelves = w.keep_shelves;
    return status;
}

void ks_plan_job_post(ks_call *call)
{
    ks_error err = {0};
    ks_server *server = call->server;
    ks_plan_job *job = calloc(1, sizeof *job);
    if (!job)
        ks_no_memory();
    job->server = server;
    job->work.folder = server->folder;
    if (read_job(call, job, &err)) {
        ks_reply_failure(call, 400, err.text);
        free_job(job);
        return;
    }
    job->number = ++server->jobs_begun;
    job->next = server->jobs;
    server->jobs = job;
    forget_old(server);
    start_next(server);
    reply_job(call, 202, job, 0);
}

static void give_up(ks_call *call)
{
    job_watch *watch = call->errand;
    ks_errands_remove(&call->server->errands, &watch->errand);
    ks_reply_failure(call, 503, "the server is ending");
    ks_call_wake(call);
}

static ks_plan_job *named_job(ks_call *call)
{
    ks_plan_job *job = find(call->server, call->route.rest);
    if (!job)
        ks_reply_failure(call, 404, "there is no job of this number, or it ended long ago");
    return job;
}

void ks_plan_job_get(ks_call *call)
{
    double after = 0;
    const char *sent =
        MHD_lookup_connection_value(call->connection, MHD_GET_ARGUMENT_KIND, "after");
    ks_plan_job *job = named_job(call);
    if (!job)
        return;
    if (sent && (ks_number_parse(sent, &after) || !(after >= 0 && after < 1e9))) {
        ks_reply_failure(call, 400, "after: it takes the number of the plan that is known");
        return;
    }
    if (job->plans > (int)after || job->state == JOB_ENDED) {
        reply_job(call, 200, job, (int)after);
        return;
    }
    job_watch *watch = KS_TAKE(&call->arena, 1, job_watch);
    double now = ks_watch_now();
    *watch = (job_watch){
        {-1, now + PACE_S, look_again, NULL}, call, job, (int)after, job->paces, now + WAIT_S};
    call->errand = watch;
    call->give_up = give_up;
    ks_errands_add(&call->server->errands, &watch->errand);
    ks_call_wait(call);
}

void ks_plan_job_delete(ks_call *call)
{
    ks_plan_job *job = named_job(call);
    if (!job)
        return;
    if (job->state == JOB_WAITING)
        end_job(job, "it was ended before its turn came");
    else if (job->state == JOB_RUNNING && job->hurries == 0)
        job->errand.until = ks_watch_now();
    reply_job(call, 202, job, job->plans);
}

void ks_plan_jobs_finish(ks_server *server)
{
    ks_plan_job *next;
    for (ks_plan_job *job = server->jobs; job; job = next) {
        next = job->next;
        ks_errands_remove(&server->errands, &job->errand);
        (void)ks_child_finish(&job->child, &job->arena);
        if (job->state == JOB_RUNNING)
            ks_trial_remove(job->work.trial);
        free_job(job);
    }
    server->jobs = NULL;
}
