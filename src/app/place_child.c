#include "app/place_child.h"

#include "app/child.h"
#include "base/language.h"
#include "base/text.h"
#include "studio/files/plan_file.h"

#include <signal.h>
#include <stdlib.h>
#include <string.h>

typedef struct {
    int up;
    ks_placing *placing;
    volatile sig_atomic_t hurried;
    bool any_placed;
} planner;

bool ks_plan_passes(const ks_check_report *report)
{
    for (int i = 0; i < report->n_broken; i++)
        if (strcmp(report->broken[i].rule, "must go") != 0)
            return false;
    return true;
}

static void stop_asked(void *payload)
{
    planner *p = payload;
    p->hurried = 1;
    ks_placing_stop(p->placing);
}

static void say_plan(const planner *p, const ks_plan *plan, ks_arena *arena)
{
    ks_check_report report;
    ks_plan_head head = {0};
    ks_check(plan, arena, &report);
    head.passes = ks_plan_passes(&report);
    head.ok = report.ok;
    ks_placing_stayed(p->placing, &head.stayed, &head.stood);
    head.free_worth = ks_placing_free_worth(p->placing);
    ks_text text = {.arena = arena};
    ks_text_add(&text, ks_plan_brief(plan, arena));
    head.brief = text.length;
    ks_text_add(&text, ks_plan_json(plan, arena));
    ks_child_say(p->up, KS_SAYS_PLAN, (ks_saying){&head, sizeof head},
                 (ks_saying){text.text, text.length});
}

static void say_better(const planner *p)
{
    ks_arena arena = {0};
    if (ks_placing_is_better(p->placing))
        say_plan(p, ks_placing_sketch(p->placing, "unfinished", &arena), &arena);
    ks_arena_finish(&arena);
}

static ks_status search(planner *p, const char **stopped_by, ks_error *err)
{
    ks_progress progress = {0};
    ks_status status = KS_OK;
    for (bool more = true; more && !p->hurried && !status;) {
        status = ks_placing_step(p->placing, &more, &progress, err);
        progress.last = !more;
        p->any_placed = progress.placed + progress.filled > 0;
        ks_child_say(p->up, KS_SAYS_PROGRESS, (ks_saying){&progress, sizeof progress},
                     (ks_saying){0});
        if (!p->hurried) /* else the last of all follows at once */
            say_better(p);
    }
    *stopped_by = p->hurried ? "unfinished" : progress.round < progress.rounds ? "proof" : "rounds";
    return status;
}

static ks_status say_best(const planner *p, const char *stopped_by, ks_error *err)
{
    ks_arena arena = {0};
    ks_plan *plan = NULL;
    ks_status status = ks_placing_best(p->placing, stopped_by, &arena, &plan, err);
    say_plan(p, plan, &arena);
    ks_arena_finish(&arena);
    return status;
}

/* One that fails our check would be none to choose. */
static void say_fewer(const planner *p)
{
    ks_arena arena = {0};
    ks_check_report report;
    ks_plan *plan = p->hurried ? NULL : ks_placing_one_load_fewer(p->placing, &arena);
    if (plan)
        ks_check(plan, &arena, &report);
    if (plan && ks_plan_passes(&report)) {
        const char *text = ks_plan_json(plan, &arena);
        ks_child_say(p->up, KS_SAYS_FEWER, (ks_saying){0}, (ks_saying){text, strlen(text)});
    }
    ks_arena_finish(&arena);
}

void ks_place_in_child(int up, void *payload)
{
    const ks_place_work *work = payload;
    (void)ks_language_use("en"); /* a plan has the same bytes whoever reads it */
    planner p = {.up = up};
    ks_placing_end end = {0};
    const char *stopped_by = "";
    end.status = ks_placing_create(work->order, &work->options, &p.placing, &end.err);
    if (!end.status) {
        ks_child_on_hurry(stop_asked, &p);
        end.status = search(&p, &stopped_by, &end.err);
    }
    if (!end.status && (p.any_placed || !p.hurried)) /* else there is no plan yet */
        end.status = say_best(&p, stopped_by, &end.err);
    if (!end.status)
        say_fewer(&p);
    strncpy(end.stopped_by, stopped_by, sizeof end.stopped_by - 1);
    ks_child_say(up, KS_SAYS_ENDED, (ks_saying){&end, sizeof end}, (ks_saying){0});
}
