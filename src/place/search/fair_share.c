#include "place/draft/cone_packs.h"
#include "place/draft/offer.h"
#include "place/draft/ranking.h"
#include "place/search/level_build.h"
#include "place/search/press_in.h"
#include "place/search/top_up.h"

/* A fair plan is led by turns: in the first, each owner offers one piece, the smallest that a level
 * can take; in the second, those who have one offer another, and so on; what is in stays on its
 * level, but moves to make room. In the end the room that is left is for whatever is worth most. An
 * owner who still has less than the others then pushes ware of those with more aside. */

enum { PLANS_TRIED = 3, PUSHES = 4, MENDINGS_OF_PUSHES = 12 };
#define NOT_TO_BE_TAKEN 100.0 /* of those who have least, against one of any other */

typedef struct {
    ks_run *run;
    ks_draft *draft;
    ks_random *random;
    ks_arena *arena;
} sharing_out;

/* Pieces of each owner that are in, at the owner's first piece. */
static int *owned_in(const sharing_out *s, ks_arena *arena)
{
    const ks_job *job = s->run->job;
    int *owned = KS_TAKE(arena, job->n_items, int);
    for (int i = 0; i < job->order->n_pieces; i++)
        if (ks_job_has_owner(job, i))
            owned[job->items[i].owner] += job->order->pieces[i].count - s->draft->left[i];
    return owned;
}

static void count_on(const ks_draft_level *level, int *on)
{
    for (int i = 0; i < level->layout.n_spots; i++)
        on[level->layout.spots[i].item]++;
}

/* Of each owner with fewer than so many the smallest piece that finds height on the level. */
static void find_offer(const sharing_out *s, int turn, double clear_mm, int *offered)
{
    const ks_job *job = s->run->job;
    ks_arena scratch = {0};
    int *owned = owned_in(s, &scratch), *of = KS_TAKE(&scratch, job->n_items, int);
    for (int i = 0; i < job->n_items; i++)
        of[i] = -1;
    for (int i = 0; i < job->order->n_pieces; i++) {
        int owner = job->items[i].owner;
        if (!ks_job_has_owner(job, i) || s->draft->left[i] < 1 || owned[owner] >= turn ||
            job->height_mm[i] > clear_mm)
            continue;
        if (of[owner] < 0 || job->area_mm2[i] < job->area_mm2[of[owner]])
            of[owner] = i;
    }
    for (int i = 0; i < job->n_items; i++)
        if (of[i] >= 0)
            offered[of[i]] = 1;
    ks_arena_finish(&scratch);
}

/* What stands on the level stays on it, and as many as can of those offered come to it. */
static void fill_more(const sharing_out *s, int slot, int l, int turn)
{
    const ks_job *job = s->run->job;
    ks_arena scratch = {0};
    ks_draft_level *level = &s->draft->loads[slot].levels[l];
    const ks_load_kind *kind = &job->kinds[s->draft->loads[slot].kind];
    ks_shelf_layout before = level->layout;
    int *offered = KS_TAKE(&scratch, job->n_items, int),
        *may = KS_TAKE(&scratch, job->n_items, int), *must = KS_TAKE(&scratch, job->n_items, int);
    double *worth = KS_TAKE(&scratch, job->n_items, double);
    count_on(level, must);
    find_offer(s, turn, ks_level_clear_mm(kind, &level->at), offered);
    ks_draft_clear_level(job, s->draft, slot, l);
    ks_offer_copies(job, s->draft, slot, l, may);
    for (int i = 0; i < job->n_items; i++) {
        may[i] = may[i] < must[i] + offered[i] ? may[i] : must[i] + offered[i];
        worth[i] = 1;
    }
    if (job->cone >= 0)
        may[job->cone] = must[job->cone] = level->cones;
    ks_fill fill = {.job = job,
                    .kind = kind,
                    .level = &level->at,
                    .worth = worth,
                    .copies = may,
                    .must = must,
                    .warm = &before,
                    .n_pins = level->n_pins,
                    .pins = level->pins,
                    .mass_left_kg = ks_offer_mass_kg(job, s->draft, slot),
                    .seed = ks_random_bits(s->random),
                    .work = s->run->work / 2};
    ks_shelf_layout after = ks_level_fill(&fill, s->arena);
    ks_draft_set_level(job, s->draft, slot, l, after.n_spots > before.n_spots ? after : before);
    ks_draft_count(job, s->draft);
    ks_arena_finish(&scratch);
}

/* From the lowest levels up: what is low leaves the high ones to those who have nothing lower. */
static void take_turns(const sharing_out *s)
{
    const ks_job *job = s->run->job;
    for (int turn = 1; turn <= job->fair_most; turn++)
        for (int k = 0; k < s->draft->n_loads; k++) {
            int n = s->draft->loads[k].n_levels;
            int *order = KS_TAKE(s->arena, n, int);
            ks_build_order(job, &s->draft->loads[k], order);
            for (int l = n - 1; l >= 0 && !ks_stop_is_asked(job->stop); l--)
                fill_more(s, k, order[l], turn);
        }
}

/* What pieces count: many times where their owner has hardly more than those who have least. */
static double *counts_of(const sharing_out *s, ks_arena *arena)
{
    const ks_job *job = s->run->job;
    int *owned = owned_in(s, arena), least = job->fair_most;
    double *counts = KS_TAKE(arena, job->n_items, double);
    for (int i = 0; i < job->order->n_pieces; i++)
        if (ks_job_has_owner(job, i) && s->draft->left[i] > 0 && job->urgency[i] > 0 &&
            owned[job->items[i].owner] < least)
            least = owned[job->items[i].owner];
    for (int i = 0; i < job->order->n_pieces; i++) {
        bool has_least = ks_job_has_owner(job, i) && owned[job->items[i].owner] <= least + 1;
        counts[i] = job->worth[i] * (has_least ? NOT_TO_BE_TAKEN : 1);
    }
    return counts;
}

static void share_out(ks_run *run, const ks_draft *plan, int number)
{
    ks_arena arena = {0};
    ks_random random = ks_run_random(run, KS_FOR_FAIR_SHARE, number);
    ks_draft draft = ks_draft_copy(run->job, plan, &arena);
    sharing_out s = {run, &draft, &random, &arena};
    for (int k = 0; k < draft.n_loads; k++)
        for (int l = 0; l < draft.loads[k].n_levels; l++)
            ks_draft_clear_level(run->job, &draft, k, l);
    ks_draft_count(run->job, &draft);
    take_turns(&s);
    ks_top_up(run, &draft, run->work / 2, &random, &arena);
    ks_draft_count(run->job, &draft);
    ks_run_take(run, &draft);
    ks_arena_finish(&arena);
}

/* Owners with less than the others push ware of those aside. */
static void push_in(ks_run *run)
{
    ks_arena arena = {0};
    ks_draft draft = ks_draft_copy(run->job, &run->best, &arena);
    sharing_out s = {run, &draft, NULL, &arena};
    int time = 0;
    for (int p = 0; p < PUSHES && time < MENDINGS_OF_PUSHES; p++)
        if (!ks_run_press_in(run, &draft, counts_of(&s, &arena), &time, MENDINGS_OF_PUSHES) ||
            !ks_run_take(run, &draft))
            break;
    ks_arena_finish(&arena);
}

void ks_run_share_fairly(ks_run *run)
{
    if (run->job->fair_most < 1)
        return;
    ks_draft best = ks_draft_copy(run->job, &run->best, run->arena);
    share_out(run, &best, 0);
    for (int i = 0; i < run->n_field && i < PLANS_TRIED && !ks_stop_is_asked(run->job->stop); i++)
        share_out(run, &run->field[i], 1 + i);
    push_in(run);
}
