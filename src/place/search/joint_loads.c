#include "place/search/level_build.h"
#include "place/search/stack_choice.h"
#include "place/draft/pins.h"

#include <math.h>
#include <string.h>

/* All loads planned anew together: their stacks are chosen for all the ware at once, their levels
 * filled from the tallest down, and what waits is then worked in, round after round. Where all is
 * placed already, one load fewer is aimed at. */

enum { MENDINGS = 5, PATIENCE = 8 };
#define HOPELESS_DENSITY 0.93 /* levels never become so dense */
#define NO_GAIN 0.995
#define BY_BULK 0.15
#define LAST_CHANCE 2.0 /* how much more an item is asked that no other level can take */

typedef struct {
    ks_run *run;
    ks_draft *draft;
    bool *open;  /* of each slot: it takes part */
    int n_open;  /* that are fired, or may be */
    int *copies; /* of each item that is for these loads */
} aiming;

static bool has_pins(const ks_job *job, int slot)
{
    ks_arena scratch = {0};
    ks_level_need *needs = NULL;
    bool any = ks_pins_needs(job, slot, &needs, &scratch) > 0;
    ks_arena_finish(&scratch);
    return any;
}

/* Slots fired so that the same ware suits them as suits the one drawn. */
static aiming aiming_of(ks_run *run, ks_draft *draft, bool fired_only, ks_random *random)
{
    const ks_job *job = run->job;
    aiming a = {run, draft, KS_TAKE(run->arena, job->n_slots, bool), 0,
                KS_TAKE(run->arena, job->n_items, int)};
    const bool *suits = job->kinds[job->slot_kind[ks_random_below(random, job->n_slots)]].suits;
    for (int s = 0; s < job->n_slots; s++) {
        const bool *own = job->kinds[job->slot_kind[s]].suits;
        a.open[s] =
            memcmp(own, suits, sizeof *own * (size_t)job->n_items) == 0 && !has_pins(job, s);
        a.n_open += a.open[s] && (!fired_only || draft->loads[s].n_levels > 0);
        if (a.open[s])
            draft->loads[s].n_levels = 0;
    }
    ks_draft_count(job, draft);
    for (int i = 0; i < job->order->n_pieces; i++)
        a.copies[i] = suits[i] ? draft->left[i] : 0;
    return a;
}

typedef struct {
    int slot, level;
    double clear_mm;
} place;

static int sorted_in(place *places, int n, place more)
{
    int at = n;
    for (; at > 0 && places[at - 1].clear_mm < more.clear_mm; at--)
        places[at] = places[at - 1];
    places[at] = more;
    return n + 1;
}

/* Levels of the loads that take part, from the tallest down. */
static place *places_of(const aiming *a, int *n, ks_arena *arena)
{
    int all = 0;
    for (int s = 0; s < a->draft->n_loads; s++)
        all += a->draft->loads[s].n_levels;
    place *places = KS_TAKE(arena, all, place);
    *n = 0;
    for (int s = 0; s < a->draft->n_loads; s++)
        for (int l = 0; l < a->draft->loads[s].n_levels && a->open[s]; l++) {
            const ks_draft_load *load = &a->draft->loads[s];
            double clear_mm =
                ks_level_clear_mm(&a->run->job->kinds[load->kind], &load->levels[l].at);
            *n = sorted_in(places, *n, (place){s, l, clear_mm});
        }
    return places;
}

/* What is tall has few levels to go to, and must not lose them to what is low. */
static void asked_by_chances(const aiming *a, const place *places, int n, const double *rent,
                             double *asked)
{
    const ks_job *job = a->run->job;
    for (int i = 0; i < job->n_items; i++) {
        int chances = 0;
        while (chances < n && places[chances].clear_mm >= job->height_mm[i])
            chances++;
        asked[i] = rent[i] * (1 + LAST_CHANCE / (chances > 0 ? chances : 1));
    }
}

static void fill_levels(const aiming *a, const double *rent, ks_random *random)
{
    ks_arena scratch = {0};
    int n;
    place *places = places_of(a, &n, &scratch);
    ks_level_builder b = ks_level_builder_of(a->run, a->draft, random, &scratch);
    b.arena = a->run->arena;
    b.work = a->run->work / 4;
    for (int i = 0; i < n && !ks_stop_is_asked(a->run->job->stop); i++) {
        asked_by_chances(a, places + i, n - i, rent, b.worth);
        ks_build_level(&b, places[i].slot, places[i].level, NULL);
    }
    ks_draft_count(a->run->job, a->draft);
    ks_arena_finish(&scratch);
}

/* Rents are nothing, or all the same, at heights of which there is room to spare, and yet all has
 * to go in, what is tall before what is low: so every item is asked a little by area and height,
 * too. `rent` becomes parts of all that there is. */
static void rents_evened(const aiming *a, double *rent)
{
    const ks_job *job = a->run->job;
    double rents = 0, bulks = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        rents += rent[i] * a->copies[i];
        bulks += job->area_mm2[i] * job->height_mm[i] * a->copies[i];
    }
    for (int i = 0; i < job->order->n_pieces; i++) {
        double bulk = bulks > 0 ? job->area_mm2[i] * job->height_mm[i] / bulks : 0;
        rent[i] = rents > 0 ? (1 - BY_BULK) * rent[i] / rents + BY_BULK * bulk : bulk;
    }
}

/* When levels are mended, large items count more than their part: what is small finds room last. */
static void find_counts(const aiming *a, const double *rent, double *counts)
{
    ks_arena scratch = {0};
    int n = 0, levels;
    place *places = places_of(a, &levels, &scratch);
    asked_by_chances(a, places, levels, rent, counts);
    for (int i = 0; i < a->run->job->order->n_pieces; i++)
        n += a->copies[i];
    for (int i = 0; i < a->run->job->order->n_pieces; i++)
        counts[i] *= sqrt(sqrt(rent[i] * n));
    ks_arena_finish(&scratch);
}

static double waiting(const ks_run *run, const ks_draft *draft)
{
    double sum = 0;
    for (int i = 0; i < run->job->order->n_pieces; i++)
        sum += run->aim.counts[i] * draft->left[i];
    return sum;
}

static void begin_aim(ks_run *run)
{
    const ks_job *job = run->job;
    struct ks_joint_loads *aim = &run->aim;
    ks_random random = ks_run_random(run, KS_FOR_AIM, 0);
    bool fewer = !ks_run_waits(run);
    aim->draft = ks_draft_copy(job, &run->best, run->arena);
    aiming a = aiming_of(run, &aim->draft, fewer, &random);
    double *rent = KS_TAKE(run->arena, job->n_items, double);
    ks_choice choice = {job, a.copies, run->pool.worth, a.open, a.n_open - fewer, &random};
    double density =
        choice.loads > 0 ? ks_choose_stacks(&choice, &aim->draft, rent, run->arena) : 0;
    if (density <= 0 || (fewer && density > HOPELESS_DENSITY)) {
        aim->hopeless = true;
        return;
    }
    if (!aim->counts)
        aim->counts = KS_TAKE(run->arena, job->n_items, double);
    for (int i = 0; i < job->order->n_pieces && !fewer; i++) {
        rent[i] = fmin(rent[i], run->pool.worth[i]);
        aim->counts[i] = run->pool.worth[i];
    }
    if (fewer) {
        rents_evened(&a, rent);
        find_counts(&a, rent, aim->counts);
    }
    fill_levels(&a, rent, &random);
    aim->begun = true;
    aim->stalled = 0;
    aim->left = waiting(run, &aim->draft);
}

bool ks_run_joint_loads(ks_run *run)
{
    struct ks_joint_loads *aim = &run->aim;
    if (aim->hopeless)
        return false;
    if (!aim->begun)
        begin_aim(run);
    if (!aim->begun)
        return false;
    int64_t work = run->work;
    run->work *= 1 + aim->stalled; /* what little search does not find, more may */
    for (int m = 0; m < MENDINGS && !ks_stop_is_asked(run->job->stop); m++)
        ks_run_mend(run, &aim->draft, aim->counts, KS_FOR_AIMED, run->round * MENDINGS + m);
    run->work = work;
    if (ks_run_take(run, &aim->draft)) {
        aim->begun = aim->hopeless = false;
        return true;
    }
    double left = waiting(run, &aim->draft);
    aim->stalled = left > NO_GAIN * aim->left ? aim->stalled + 1 : 0;
    aim->left = left < aim->left ? left : aim->left;
    aim->begun = aim->stalled < PATIENCE;
    return true;
}
