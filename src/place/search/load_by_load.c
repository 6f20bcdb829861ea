#include "place/draft/draft_settled.h"
#include "place/draft/ranking.h"
#include "place/job/share_job.h"
#include "place/search/press_in.h"
#include "place/search/rounds.h"
#include "place/search/sharing.h"

#include <math.h>

/* Several loads, of one kind of kiln or of many, one after another in the order of their dates. How
 * much of what goes where is decided first (sharing.h), for the fewest loads that liquid ware could
 * be in; then the first load is planned like a single one, with all that is known about these, from
 * its share and some more to choose from; what it left waits for the next, and the sharing is done
 * again. Where all ware is placed so, the same is tried with one load fewer, and told what would
 * wait then; where little waits, once more, and where much does, with one load more. The best plan
 * of each number of loads is kept. */

enum {
    ATTEMPTS = 3,
    WORK_LOADS = 5,
    ROUNDS_LEAST = 2,
    MENDINGS = 4,
    MENDINGS_ALL = 24,
    PRESSINGS_A_ROUND = 18, /* mendings after something was pressed in, for the rounds there are */
    PRESSINGS_MOST = 2000,
    FEW_LOADS = 4, /* fewer than that are mended by all tasks at once */
    TRIES = 2,
    LAID_FLAT_MM = 30
};
#define MM3_L 1e6
#define TO_SPARE 1.12   /* of its share, where all finds room */
#define TO_CHOOSE 1.3   /* where the loads are tight */
#define OFFER_LEAST 0.7 /* of all that is left, there */
#define HOPED 1.06      /* the first plan's fullest load leaves so much undone */
#define TIGHT 0.85      /* of their capacity that the loads must hold */
#define NEARLY 0.9995
#define LITTLE 0.04 /* of all the ware */

/* A measure of how much of a load ware takes: its area to its height and what a shelf takes. */
static void find_bulk(ks_run *run)
{
    const ks_job *job = run->job;
    for (int i = 0; i < job->order->n_pieces; i++)
        run->ahead.bulk[i] =
            ks_item_area_mm2(job, &job->kinds[0], i) * (job->height_mm[i] + LAID_FLAT_MM) / MM3_L;
}

static double bulk_of(const ks_run *run, ks_shelf_spot spot)
{
    double sum = 0;
    for (int m = 0; m < ks_job_members(run->job, spot.item); m++)
        sum += run->ahead.bulk[ks_job_member(run->job, spot.item, m)];
    return sum;
}

static double bulk_in(const ks_run *run, const ks_draft_load *load)
{
    double sum = 0;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < level->layout.n_spots; i++)
            sum += bulk_of(run, level->layout.spots[i]);
        for (int i = 0; i < level->n_pins; i++)
            sum += bulk_of(run, level->pins[i]);
    }
    return sum;
}

/* As the fullest of each kind in the first plan tells; a kind that it has not is filled like the
 * best of the others, for its chamber. */
static void find_capacities(ks_run *run)
{
    const ks_job *job = run->job;
    double density = 0;
    for (int s = 0; s < job->n_slots; s++) {
        double *most = &run->ahead.capacity[job->slot_kind[s]];
        const ks_kiln *kiln = job->kinds[job->slot_kind[s]].furniture->kiln;
        *most = fmax(*most, HOPED * bulk_in(run, &run->best.loads[s]));
        density = fmax(density, *most / ks_chamber_litres(kiln));
    }
    for (int k = 0; k < job->n_kinds; k++)
        if (run->ahead.capacity[k] <= 0)
            run->ahead.capacity[k] = density * ks_chamber_litres(job->kinds[k].furniture->kiln);
}

static ks_sharing shared(const ks_run *run, const int *left, int loads, ks_arena *arena)
{
    const ks_job *job = run->job;
    double *capacity = KS_TAKE(arena, job->n_slots, double);
    for (int s = 0; s < job->n_slots; s++)
        capacity[s] = run->ahead.capacity[job->slot_kind[s]];
    ks_sharing_ask ask = {job, left, run->ahead.bulk, run->ahead.open, capacity, loads};
    return ks_sharing_find(&ask, arena);
}

/* The fewest loads in which as much finds room as in all of them, while all are open. */
static int fewest_loads(const ks_run *run)
{
    const ks_job *job = run->job;
    ks_arena scratch = {0};
    const int *left = run->ahead.none.left;
    double all = shared(run, left, job->n_slots, &scratch).bulk;
    int loads = run->fewest < 1 ? 1 : run->fewest > job->n_slots ? job->n_slots : run->fewest;
    while (loads < job->n_slots && !ks_stop_is_asked(job->stop) &&
           shared(run, left, loads, &scratch).bulk < NEARLY * all)
        loads++;
    ks_arena_finish(&scratch);
    return loads;
}

static void open_all(ks_run *run)
{
    for (int s = 0; s < run->job->n_slots; s++)
        run->ahead.open[s] = true;
}

static void begin_attempt(ks_run *run, int loads)
{
    struct ks_load_by_load *a = &run->ahead;
    a->tries[loads]++;
    a->loads = a->to_pack = loads;
    a->draft = ks_draft_empty(run->job, run->arena);
    open_all(run);
}

/* The fewest that come into question, and where all is placed already one fewer than that at the
 * most. */
static int first_number(const ks_run *run)
{
    int fewest = fewest_loads(run), fired = ks_draft_fired(&run->best);
    return ks_run_waits(run) || fewest < fired || fired < 2 ? fewest : fired - 1;
}

static void begin(ks_run *run)
{
    struct ks_load_by_load *a = &run->ahead;
    const ks_job *job = run->job;
    a->begun = true;
    a->bulk = KS_TAKE(run->arena, job->n_items, double);
    a->capacity = KS_TAKE(run->arena, job->n_kinds, double);
    a->open = KS_TAKE(run->arena, job->n_slots, bool);
    a->tries = KS_TAKE(run->arena, job->n_slots + 1, int);
    a->found = KS_TAKE(run->arena, job->n_slots + 1, ks_draft);
    a->none = ks_draft_empty(job, run->arena);
    find_bulk(run);
    find_capacities(run);
    open_all(run);
    begin_attempt(run, first_number(run));
}

/* Whether the loads to be packed must hold about all that they can. */
static bool is_tight(const ks_run *run, const ks_sharing *sharing)
{
    const ks_job *job = run->job;
    double room = 0;
    for (int s = 0; s < job->n_slots; s++)
        room +=
            run->ahead.open[s] && sharing->fired[s] ? run->ahead.capacity[job->slot_kind[s]] : 0;
    return sharing->bulk > TIGHT * room;
}

/* Whether a later load that is to be packed may take it, in time. */
static bool goes_on(const ks_job *job, const ks_sharing *sharing, int slot, int item)
{
    for (int s = slot + 1; s < job->n_slots; s++)
        if (sharing->fired[s] && !sharing->elsewhere[s * job->n_items + item] &&
            ks_job_in_time(job, s, item))
            return true;
    return false;
}

/* Copies of each item that the load is offered; what is left over of one item's share counts for
 * the next, so that a load gets its part of kinds of few copies too. */
static void find_offer(const ks_run *run, const ks_sharing *sharing, int slot, int *copies)
{
    const ks_job *job = run->job;
    bool tight = is_tight(run, sharing);
    double by = tight ? TO_CHOOSE : TO_SPARE, least = tight ? OFFER_LEAST : 0, over = 0.5;
    for (int i = 0; i < job->order->n_pieces; i++) {
        int left = run->ahead.draft.left[i];
        double part = sharing->part[slot * job->n_items + i];
        copies[i] = 0;
        if (sharing->elsewhere[slot * job->n_items + i] || left <= 0)
            continue;
        bool all = job->set[i] >= 0 || !goes_on(job, sharing, slot, i);
        over += all ? 0 : left * fmin(1, fmax(least, by * part));
        copies[i] = all ? left : (int)fmin(left, floor(over));
        over -= all ? 0 : copies[i];
        if (ks_job_is_kept_in(job, slot, i) && copies[i] == 0)
            copies[i] = 1;
    }
}

/* The offer planned as a single load; true when all of it is in. */
static bool pack(ks_run *run, int slot, const int *copies)
{
    const ks_job *job = run->job;
    struct ks_load_by_load *a = &run->ahead;
    ks_arena arena = {0};
    ks_share_job share;
    ks_share_job_init(&share, job, slot, copies, &arena);
    ks_random random = ks_stream(job->options.seed, KS_FOR_LOAD,
                                 a->loads + job->n_slots * (a->tries[a->loads] - 1), slot);
    share.job.options.seed = ks_random_bits(&random);
    int rounds = job->options.rounds * WORK_LOADS / (2 * a->loads);
    share.job.options.rounds = rounds > ROUNDS_LEAST ? rounds : ROUNDS_LEAST;
    ks_run single;
    ks_run_init(&single, &share.job, &arena);
    do
        ks_run_round(&single);
    while (!ks_stop_is_asked(job->stop) && single.round < share.job.options.rounds &&
           ks_run_waits(&single));
    bool all = !ks_run_waits(&single);
    ks_draft best = ks_draft_copy(&share.job, &single.best, run->arena);
    ks_draft_settle(&share.job, &best);
    a->draft.loads[slot] = best.loads[0];
    a->draft.loads[slot].kind = job->slot_kind[slot];
    if (ks_draft_is_bare(&a->draft.loads[slot]))
        a->draft.loads[slot].n_levels = 0;
    ks_draft_count(job, &a->draft);
    ks_arena_finish(&arena);
    return all;
}

/* A load that could not take its share tells how much one of its kind holds. */
static void cut(ks_run *run, int slot)
{
    double *capacity = &run->ahead.capacity[run->job->slot_kind[slot]];
    double held = bulk_in(run, &run->ahead.draft.loads[slot]);
    *capacity = held > 0.5 * *capacity ? 0.5 * (*capacity + held) : *capacity;
}

static double bulk_waiting(const ks_run *run, const ks_draft *draft)
{
    return ks_draft_waits(run->job, draft, run->ahead.bulk);
}

static bool is_little(const ks_run *run)
{
    double waits = bulk_waiting(run, &run->ahead.draft);
    return waits > 0 && waits <= LITTLE * bulk_waiting(run, &run->ahead.none);
}

/* What waits is worked in: where it is little, room is brought together for it, and all of it is to
 * go in; where it is much, what is worth most. */
static void mend(ks_run *run)
{
    struct ks_load_by_load *a = &run->ahead;
    const double *counts = is_little(run) ? a->bulk : NULL;
    int n = counts ? MENDINGS_ALL : MENDINGS, attempt = a->loads * TRIES + a->tries[a->loads] - 1;
    for (int m = 0; m < n && bulk_waiting(run, &a->draft) > 0; m++) {
        if (ks_stop_is_asked(run->job->stop))
            return;
        ks_run_mend(run, &a->draft, counts, KS_FOR_LOADS_MENDED, attempt * MENDINGS_ALL + m);
    }
    int most = run->job->options.rounds * (a->loads < FEW_LOADS ? 1 : PRESSINGS_A_ROUND);
    most = most < PRESSINGS_MOST ? most : PRESSINGS_MOST;
    int time = attempt * most, end = time + most;
    while (is_little(run) && time < end && ks_run_press_in(run, &a->draft, a->bulk, &time, end))
        ;
}

/* The best plan of so many loads is kept, for what it tells. */
static void keep_found(ks_run *run)
{
    struct ks_load_by_load *a = &run->ahead;
    ks_draft *best = &a->found[ks_draft_fired(&a->draft)];
    if (best->n_loads == 0 || ks_ranking_compare(run->job, &a->draft, best) > 0)
        *best = ks_draft_copy(run->job, &a->draft, run->arena);
}

/* Of how many loads the next attempt is; 0 = there is none. What was told of one load fewer is
 * planned in the same way where it is asked for. */
static int next_number(const ks_run *run, bool waits, bool little)
{
    const struct ks_load_by_load *a = &run->ahead;
    int next = waits ? a->loads + 1 : a->loads - 1, asked = run->job->options.loads;
    if (little && a->tries[a->loads] < TRIES)
        return a->loads;
    if (next > 0 && next <= run->job->n_slots && a->tries[next] == 0)
        return next;
    return asked > 0 && asked < run->job->n_slots && a->tries[asked] == 0 ? asked : 0;
}

static void finish_attempt(ks_run *run)
{
    struct ks_load_by_load *a = &run->ahead;
    mend(run);
    keep_found(run);
    ks_run_take(run, &a->draft);
    int next = next_number(run, bulk_waiting(run, &a->draft) > 0, is_little(run));
    a->done = next < 1;
    if (!a->done)
        begin_attempt(run, next);
}

/* The next load of the attempt; false when none is left. */
static bool pack_next(ks_run *run)
{
    struct ks_load_by_load *a = &run->ahead;
    const ks_job *job = run->job;
    ks_arena scratch = {0};
    ks_sharing sharing = shared(run, a->draft.left, a->to_pack, &scratch);
    int slot = 0, *copies = KS_TAKE(&scratch, job->n_items, int);
    while (slot < job->n_slots && !(a->open[slot] && sharing.solved && sharing.fired[slot]))
        slot++;
    bool any = slot < job->n_slots && a->to_pack > 0;
    if (any) {
        find_offer(run, &sharing, slot, copies);
        a->open[slot] = false;
        a->to_pack--;
        if (!pack(run, slot, copies))
            cut(run, slot);
    }
    ks_arena_finish(&scratch);
    return any;
}

/* So many that three numbers of loads can be tried in the rounds there are. */
static int loads_at_once(const ks_run *run)
{
    int rounds = (run->job->options.rounds - 1) / ATTEMPTS;
    rounds = rounds > 1 ? rounds : 1;
    return (run->ahead.loads + rounds - 1) / rounds;
}

bool ks_run_load_by_load(ks_run *run)
{
    struct ks_load_by_load *a = &run->ahead;
    if (!a->begun)
        begin(run);
    if (a->done || ks_stop_is_asked(run->job->stop))
        return false;
    bool more = true;
    for (int n = loads_at_once(run); n > 0 && more; n--)
        more = pack_next(run) && a->to_pack > 0;
    if (!more && !ks_stop_is_asked(run->job->stop))
        finish_attempt(run);
    return true;
}

const ks_draft *ks_run_one_load_fewer(const ks_run *run)
{
    const ks_draft *found = run->ahead.found;
    int fewer = ks_draft_fired(&run->best) - 1;
    return found && fewer > 0 && found[fewer].n_loads > 0 ? &found[fewer] : NULL;
}

bool ks_run_fewer_is_known(const ks_run *run)
{
    return run->ahead.done || ks_draft_fired(&run->best) < 2;
}
