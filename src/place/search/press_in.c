#include "place/search/press_in.h"

#include "place/search/level_build.h"

#include <math.h>

/* When nearly all is in, what waits is mostly one large piece, which no level has room for though
 * all of them together do. It is put on a level whatever has to leave that one; what leaves it is
 * smaller, and finds room elsewhere more easily (an ejection chain: Glover 1996). */

enum { PLACES_TRIED = 3, MENDINGS_EACH = 60 };
#define FIRST_OF_ALL 100.0 /* times what it counts else */

typedef struct {
    ks_draft draft; /* with the piece on its level */
    double waits;
} pressed;

typedef struct {
    ks_run *run;
    const double *counts;
    ks_random *random;
    int item;
    int n;
    pressed *all; /* best first */
} pressing;

double ks_draft_waits(const ks_job *job, const ks_draft *draft, const double *counts)
{
    double sum = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        sum += job->urgency[i] > 0 ? draft->left[i] * counts[i] : 0;
    return sum;
}

static int largest_waiting(const ks_job *job, const ks_draft *draft, const double *counts)
{
    int largest = -1;
    for (int i = 0; i < job->order->n_pieces; i++)
        if (draft->left[i] > 0 && job->urgency[i] > 0 &&
            (largest < 0 || counts[i] > counts[largest]))
            largest = i;
    return largest;
}

static bool may_take(const ks_job *job, const ks_draft *draft, int slot, int level, int item)
{
    const ks_load_kind *kind = &job->kinds[draft->loads[slot].kind];
    return kind->suits[item] && ks_job_in_time(job, slot, item) &&
           ks_level_clear_mm(kind, &draft->loads[slot].levels[level].at) >= job->height_mm[item];
}

/* False when it finds no place there even so. */
static bool is_pressed_in(const pressing *p, ks_draft *draft, int slot, int level)
{
    const ks_job *job = p->run->job;
    ks_level_builder b = ks_level_builder_of(p->run, draft, p->random, p->run->arena);
    ks_shelf_layout before = draft->loads[slot].levels[level].layout;
    int waited = draft->left[p->item];
    for (int i = 0; i < job->order->n_pieces; i++)
        b.worth[i] = p->counts[i] * (i == p->item ? FIRST_OF_ALL : 1);
    ks_draft_clear_level(job, draft, slot, level);
    ks_build_level(&b, slot, level, &before);
    ks_draft_count(job, draft);
    return draft->left[p->item] < waited;
}

static void add_sorted(pressing *p, pressed more)
{
    int at = p->n++;
    for (; at > 0 && p->all[at - 1].waits > more.waits; at--)
        p->all[at] = p->all[at - 1];
    p->all[at] = more;
}

static void press_everywhere(pressing *p, const ks_draft *draft, ks_arena *arena)
{
    const ks_job *job = p->run->job;
    int levels = 0;
    for (int s = 0; s < draft->n_loads; s++)
        levels += draft->loads[s].n_levels;
    p->all = KS_TAKE(arena, levels, pressed);
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels && !ks_stop_is_asked(job->stop); l++) {
            if (!may_take(job, draft, s, l, p->item))
                continue;
            ks_draft tried = ks_draft_copy(job, draft, p->run->arena);
            if (is_pressed_in(p, &tried, s, l))
                add_sorted(p, (pressed){tried, ks_draft_waits(job, &tried, p->counts)});
        }
}

static void work_in(const pressing *p, pressed *one, int *time, int end)
{
    const ks_job *job = p->run->job;
    for (int m = 0; m < MENDINGS_EACH && *time < end && one->waits > 0; m++) {
        if (ks_stop_is_asked(job->stop))
            return;
        ks_run_mend(p->run, &one->draft, p->counts, KS_FOR_PRESSED_IN, (*time)++);
        one->waits = ks_draft_waits(job, &one->draft, p->counts);
    }
}

bool ks_run_press_in(ks_run *run, ks_draft *draft, const double *counts, int *time, int end)
{
    ks_arena scratch = {0};
    ks_random random = ks_stream(run->job->options.seed, KS_FOR_PRESSED_IN, *time, KS_TASKS);
    double waited = ks_draft_waits(run->job, draft, counts);
    pressing p = {run, counts, &random, largest_waiting(run->job, draft, counts), 0, NULL};
    bool better = false;
    if (p.item >= 0)
        press_everywhere(&p, draft, &scratch);
    for (int i = 0; i < p.n && i < PLACES_TRIED && !better; i++) {
        work_in(&p, &p.all[i], time, end);
        better = p.all[i].waits < waited * (1 - 1e-9);
        if (better)
            *draft = p.all[i].draft;
    }
    ks_arena_finish(&scratch);
    return better && !ks_stop_is_asked(run->job->stop);
}
