#include "app/place_run.h"

#include "app/place_child.h"
#include "app/hours/full_hours.h"
#include "app/machine/target.h"
#include "app/record/seen_thirds.h"
#include "app/record/stock.h"
#include "app/record/waited.h"
#include "app/watch.h"
#include "base/file.h"
#include "studio/files/plan_file.h"

#include <math.h>
#include <string.h>
#include <unistd.h>

static bool must_go_waits(const ks_plan *plan)
{
    for (int i = 0; i < plan->n_left_out; i++) {
        int piece = plan->left_out[i].piece;
        if (piece >= 0 && plan->order->pieces[piece].must_go)
            return true;
    }
    return false;
}

/* A plan that was handed up. */
typedef struct {
    ks_arena arena;
    ks_plan_head head;
    const char *brief;
    const char *text; /* NULL = none */
    size_t length;
    int number; /* of those handed up */
} held_plan;

/* What we know of the planning that goes on in the child. */
typedef struct {
    const ks_place_job *job;
    ks_child child;
    double start, deadline; /* deadline: when it is ended at once; infinity until it is asked to */
    const char *stopped_by; /* NULL until we ask it to end */
    ks_progress progress;   /* of its last round */
    int plans;              /* handed up so far, each better than the one before */
    const char *fewer;      /* the text of the plan with one load fewer; NULL = none */
    held_plan passing, failing; /* the last that passes our check, and the last that does not */
    bool ended;
    ks_placing_end end; /* once it has ended as it should */
    const char *part_path;
    double part_at;             /* when it was written last; 0 = never */
    bool part_due;              /* a better plan is held since then */
    const char *part_error;     /* why it cannot be written, NULL = it can */
    const ks_load_hours *hours; /* how long loads take; NULL = none has a date */
    ks_seen_thirds seen;
    int n_stock;
    const char **stock; /* what the record says of the kilns' furniture */
} planning;

#define GRACE_S 0.5     /* for the child to end by itself, of the second that it all may take */
#define LISTENING_S 0.1 /* at a time, before we look at the clock */
#define PART_EVERY_S 5.0

static void take_plan(planning *p, const ks_message *message)
{
    ks_plan_head head;
    memcpy(&head, message->bytes, sizeof head);
    held_plan *held = head.passes ? &p->passing : &p->failing;
    ks_arena_finish(&held->arena);
    held->head = head;
    held->number = ++p->plans;
    const char *brief = message->bytes + sizeof head;
    held->brief = ks_arena_text_n(&held->arena, brief, head.brief);
    held->length = message->length - sizeof head - head.brief;
    held->text = ks_arena_text_n(&held->arena, brief + head.brief, held->length);
    p->part_due = p->part_due || head.passes;
    if (head.passes && p->job->better)
        p->job->better(held->text, held->length, p->job->payload);
}

static void take(planning *p, const ks_message *message, ks_arena *arena)
{
    switch (message->kind) {
    case KS_SAYS_PROGRESS:
        memcpy(&p->progress, message->bytes, sizeof p->progress);
        if (p->job->told)
            p->job->told(&p->progress, ks_watch_now() - p->start, p->job->payload);
        return;
    case KS_SAYS_PLAN:
        take_plan(p, message);
        return;
    case KS_SAYS_FEWER:
        p->fewer = ks_arena_text_n(arena, message->bytes, message->length);
        return;
    case KS_SAYS_ENDED:
        memcpy(&p->end, message->bytes, sizeof p->end);
        p->ended = true;
        return;
    }
}

/* Asks it to end when the user or the clock says so. */
static void look_whether_to_stop(planning *p)
{
    double now = ks_watch_now();
    if (p->stopped_by)
        return;
    if (p->job->stop && *p->job->stop)
        p->stopped_by = "interrupt";
    else if (now - p->start >= p->job->seconds)
        p->stopped_by = "seconds";
    else
        return;
    p->deadline = now + GRACE_S;
    ks_child_hurry(&p->child);
}

/* So that a long search is not lost with the machine. */
static void keep_part(planning *p, ks_arena *arena)
{
    double now = ks_watch_now();
    double every = p->job->part_every_s > 0 ? p->job->part_every_s : PART_EVERY_S;
    ks_error err = {0};
    if (!p->part_path || !p->part_due || p->part_error ||
        now - (p->part_at > 0 ? p->part_at : p->start) < every)
        return;
    if (ks_file_write(p->part_path, p->passing.text, p->passing.length, &err))
        p->part_error = ks_arena_text(arena, err.text);
    p->part_at = now;
    p->part_due = false;
}

static void listen(planning *p, ks_arena *arena)
{
    ks_heard heard = KS_HEARD_NOTHING;
    while (heard != KS_HEARD_END && !p->ended && ks_watch_now() < p->deadline) {
        ks_message message;
        heard = ks_child_hear(&p->child, LISTENING_S, &message);
        if (heard == KS_HEARD_MESSAGE)
            take(p, &message, arena);
        look_whether_to_stop(p);
        keep_part(p, arena);
    }
}

static void note(ks_place_outcome *out, ks_arena *arena, const char *text)
{
    out->notes = KS_GROW(arena, out->notes, out->n_notes, &out->room_notes, const char *);
    out->notes[out->n_notes++] = text;
}

static ks_status nothing_held(const planning *p, const char *died, ks_error *err)
{
    if (p->ended && p->end.status) {
        if (err)
            *err = p->end.err;
        return p->end.status;
    }
    if (p->stopped_by && *p->stopped_by == 'i')
        return ks_fail(err, KS_INTERRUPTED,
                       "place: interrupted before there was a first plan; nothing is written");
    if (p->stopped_by)
        return ks_fail(err, KS_NO_ANSWER,
                       "place: there was no plan yet after %g s; give it longer with --seconds",
                       p->job->seconds);
    return ks_fail(err, KS_SYSTEM, "place: planning broke off before there was a first plan: %s",
                   died ? died : "it ended without a word");
}

static const char *stop_why_it(const planning *p)
{
    if (p->stopped_by)
        return p->stopped_by;
    return p->ended && *p->end.stopped_by ? p->end.stopped_by : "failure";
}

/* Whoever asked for the answer now gets the plan and the verdict as they came up, without waiting
 * until a large one has been read and checked again. */
static bool is_answered_at_once(const planning *p)
{
    return p->stopped_by && p->passing.text;
}

/* The plan as it is to be handed out: with the order as we read it, and what is true of this run.
 */
static ks_status read_held(const planning *p, const held_plan *held, const ks_order *order,
                           ks_arena *arena, ks_place_outcome *out, ks_error *err)
{
    ks_error own = {0};
    ks_status status =
        is_answered_at_once(p)
            ? ks_plan_brief_parse(held->brief, order, arena, &out->plan, &own)
            : ks_plan_parse("the plan", held->text, held->length, arena, &out->plan, &own);
    if (status)
        return ks_fail(err, KS_BUG, "a plan of our own cannot be read, please report it: %s",
                       own.text);
    out->plan->order = order;
    out->plan->rounds = p->progress.round;
    out->plan->stopped_by = ks_arena_text(arena, stop_why_it(p));
    out->stayed = held->head.stayed;
    out->stood = held->head.stood;
    out->free_worth = held->head.free_worth;
    return KS_OK;
}

static bool has_kiln(const ks_order *order, const char *id)
{
    for (int k = 0; k < order->n_kilns; k++)
        if (strcmp(order->kilns[k].id, id) == 0)
            return true;
    return false;
}

/* The plan to start from, which has to be of a kiln of this order. */
static ks_status read_from(const char *path, const ks_order *order, ks_arena *arena,
                           const ks_plan **out, ks_error *err)
{
    ks_plan *plan = NULL;
    ks_status status = ks_plan_read(path, arena, &plan, err);
    if (status)
        return status;
    *out = plan;
    for (int l = 0; l < plan->n_loads; l++)
        if (has_kiln(order, plan->loads[l].kiln_id))
            return KS_OK;
    return ks_fail(err, KS_BAD_INPUT,
                   "%s: found a plan %s; nothing of it can be kept in an order for \"%s\": plan "
                   "without --from",
                   path,
                   plan->n_loads > 0
                       ? ks_arena_print(arena, "for kiln \"%s\"", plan->loads[0].kiln_id)
                       : "without loads",
                   order->n_kilns > 0 ? order->kilns[0].id : "");
}

static void check_held(const planning *p, ks_place_outcome *out, ks_arena *arena)
{
    if (is_answered_at_once(p))
        out->report = (ks_check_report){.ok = p->passing.head.ok};
    else
        ks_check(out->plan, arena, &out->report);
}

static void judge(const planning *p, ks_place_outcome *out, ks_arena *arena)
{
    const ks_plan *plan = out->plan;
    bool interrupted = strcmp(plan->stopped_by, "interrupt") == 0;
    bool early = strcmp(plan->stopped_by, "rounds") != 0 && strcmp(plan->stopped_by, "proof") != 0;
    bool nothing = ks_plan_placed(plan) == 0 && ks_plan_waiting(plan) > 0;
    check_held(p, out, arena);
    bool counts = ks_plan_placed(plan) + ks_plan_waiting(plan) > 0;
    out->status = counts && ks_plan_gap(plan) <= 1e-9 ? "proven" : "best_found";
    if (nothing || must_go_waits(plan)) {
        out->status = early ? "no_answer" : "impossible";
        out->exit = early && nothing ? KS_NO_ANSWER : 1;
    }
    if (interrupted)
        out->exit = KS_INTERRUPTED;
    if (!p->passing.text || !ks_plan_passes(&out->report))
        out->exit = KS_BUG;
}

/* A failing plan is for whoever mends us: "plan.json" has it in "plan.failed.json". */
static void keep_failed(const planning *p, ks_arena *arena, ks_place_outcome *out)
{
    const char *path = p->job->plan_path;
    const held_plan *failing = &p->failing;
    ks_error err = {0};
    if (!failing->text || failing->number < p->passing.number)
        return;
    if (p->passing.text)
        note(out, arena, "a better plan failed our own check; please report it with the order");
    if (!path || strcmp(path, "-") == 0)
        return;
    size_t stem = strlen(path) - (ks_path_ends(path, ".json") ? strlen(".json") : 0);
    path = ks_arena_print(arena, "%.*s.failed.json", (int)stem, path);
    if (ks_target_try(path, KS_TARGET_PLAN, NULL, p->job->force, &err) ||
        ks_file_write(path, failing->text, failing->length, &err))
        note(out, arena, ks_arena_text(arena, err.text));
    else
        note(out, arena, ks_arena_print(arena, "the plan that failed is kept in %s", path));
}

static void write_plan(const planning *p, ks_arena *arena, ks_place_outcome *out)
{
    const char *path = p->job->plan_path;
    const char *text = ks_plan_retold(out->plan, p->passing.text, arena);
    ks_error err = {0};
    out->written = path;
    if (ks_file_write(path, text, strlen(text), &err) == KS_OK)
        return;
    out->exit = KS_SYSTEM;
    out->written = ks_target_rescue(path, text, strlen(text), arena);
    note(out, arena,
         out->written
             ? ks_arena_print(arena, "%s; the plan is in %s instead", err.text, out->written)
             : ks_arena_text(arena, err.text));
}

/* What one load fewer would come to. */
static void compare_fewer(const planning *p, const ks_order *order, ks_arena *arena,
                          ks_place_outcome *out)
{
    ks_load_saved *saved = KS_TAKE(arena, 1, ks_load_saved);
    ks_plan *fewer = NULL;
    ks_error err = {0};
    if (!p->fewer || p->stopped_by)
        return;
    ks_status status = ks_plan_parse("the plan", p->fewer, strlen(p->fewer), arena, &fewer, &err);
    if (!status) {
        fewer->order = order;
        status = ks_load_saved_find(out->plan, fewer, arena, saved, &err);
    }
    if (status)
        note(out, arena, ks_arena_print(arena, "one load fewer is not compared: %s", err.text));
    else
        out->fewer = saved;
}

/* Writes what is held, and says what did not go as it should. */
static void settle(const planning *p, const char *died, ks_arena *arena, ks_place_outcome *out)
{
    judge(p, out, arena);
    if (p->job->plan_path && out->exit != KS_BUG)
        write_plan(p, arena, out);
    keep_failed(p, arena, out);
    if (p->part_error)
        note(out, arena, p->part_error);
    if (p->part_at > 0 && !p->part_error && out->written)
        (void)unlink(p->part_path);
    if (p->ended && p->end.status) {
        out->exit = p->end.status;
        note(out, arena, ks_arena_text(arena, p->end.err.text));
    } else if (strcmp(out->plan->stopped_by, "failure") == 0) {
        out->exit = KS_SYSTEM;
        note(out, arena,
             ks_arena_print(arena,
                            "planning broke off after round %d: %s; this is the best plan until "
                            "then",
                            p->progress.round, died ? died : "it ended without a word"));
    }
}

static ks_status plan_in_child(planning *p, const ks_order *order, const ks_plan *from,
                               ks_arena *arena, ks_place_outcome *out, ks_error *err)
{
    ks_place_work work = {order, p->job->options};
    work.options.from = from;
    work.options.hours = p->hours;
    work.options.thirds = p->seen.thirds;
    if (p->job->listens)
        *p->job->listens = 1;
    ks_status status =
        ks_child_start(&p->child, p->job->work ? p->job->work : ks_place_in_child, &work, err);
    if (status)
        return status;
    listen(p, arena);
    p->progress.last = true;
    if (p->stopped_by && p->job->told)
        p->job->told(&p->progress, ks_watch_now() - p->start, p->job->payload);
    const char *died = ks_child_finish(&p->child, arena);
    const held_plan *held = p->passing.text ? &p->passing : &p->failing;
    if (!held->text)
        return nothing_held(p, died, err);
    status = read_held(p, held, order, arena, out, err);
    if (!status) {
        settle(p, died, arena, out);
        compare_fewer(p, order, arena, out);
    }
    return status;
}

/* Before any work is done for it. */
static ks_status try_targets(planning *p, const ks_order *order, ks_arena *arena, ks_error *err)
{
    const ks_place_job *job = p->job;
    ks_inputs inputs = {.arena = arena};
    ks_inputs_add_order(&inputs, order);
    ks_inputs_add(&inputs, job->from_path);
    ks_inputs_add(&inputs, job->book_path);
    ks_status status =
        ks_target_try(job->options.export_to, KS_TARGET_PROBLEM, &inputs, job->force, err);
    if (!status)
        status = ks_target_try(job->plan_path, KS_TARGET_PLAN, &inputs, job->force, err);
    if (status || !job->plan_path || strcmp(job->plan_path, "-") == 0)
        return status;
    p->part_path = ks_arena_print(arena, "%s.part", job->plan_path);
    return ks_target_try(p->part_path, KS_TARGET_PLAN, NULL, job->force, err);
}

/* What the studio's record says of the order's ware and kilns. */
static ks_status ask_record(planning *p, ks_order *order, ks_arena *arena, ks_error *err)
{
    const char *book = p->job->book_path;
    if (!book)
        return KS_OK;
    ks_status status = ks_waited_tell(book, order, arena, err);
    if (!status)
        status = ks_stock_count_out(book, order, arena, &p->n_stock, &p->stock, err);
    return status ? status : ks_seen_thirds_of(book, order, arena, &p->seen, err);
}

static void tell_record(const planning *p, ks_place_outcome *out, ks_arena *arena)
{
    for (int i = 0; i < p->n_stock; i++)
        note(out, arena, p->stock[i]);
    for (int i = 0; i < p->seen.n_words; i++)
        note(out, arena, p->seen.words[i]);
}

static void tell_waited(ks_place_outcome *out, ks_arena *arena)
{
    const char *words[2];
    int n = ks_waited_words(out->plan, arena, words);
    for (int i = 0; i < n; i++)
        note(out, arena, words[i]);
}

ks_status ks_place_run(const ks_place_job *job, ks_arena *arena, ks_place_outcome *out,
                       ks_error *err)
{
    planning p = {.job = job, .start = ks_watch_now(), .deadline = INFINITY};
    ks_order *order = NULL;
    const ks_plan *from = NULL;
    *out = (ks_place_outcome){0};
    ks_status status =
        ks_order_read_columns(job->order_path, job->kiln_folder, job->columns, arena, &order, err);
    if (!status && job->from_path)
        status = read_from(job->from_path, order, arena, &from, err);
    if (!status)
        status = try_targets(&p, order, arena, err);
    if (!status)
        status = ask_record(&p, order, arena, err);
    if (!status)
        status = ks_full_hours(order, arena, &p.hours, err);
    if (!status)
        status = plan_in_child(&p, order, from, arena, out, err);
    if (!status) {
        tell_waited(out, arena);
        tell_record(&p, out, arena);
    }
    ks_arena_finish(&p.passing.arena);
    ks_arena_finish(&p.failing.arena);
    out->seconds = ks_watch_now() - p.start;
    return status;
}
