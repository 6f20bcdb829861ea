#include "place/job/job.h"
#include "clock/start.h"
#include "place/job/tower_item.h"
#include "studio/late_ware.h"
#include "studio/lifting.h"
#include "studio/wish.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

ks_place_options ks_place_default(void)
{
    return (ks_place_options){.seed = 1, .rounds = 20, .threads = 2, .reserve_mm = 0.02};
}

/* What counts before worth: a piece that must go before any that need not, an earlier date before
 * a later one. Weights and not a strict order: far enough apart for any real load, and near enough
 * for the linear program to see all of them. */
#define MUST_GO_WEIGHT 60.0
#define DUE_WEIGHT 3.0
enum { DUE_CLASSES = 3 };

static int first_of_owner(const ks_order *order, int piece)
{
    const char *owner = order->pieces[piece].owner;
    for (int i = 0; i < piece; i++)
        if (owner && order->pieces[i].owner && strcmp(order->pieces[i].owner, owner) == 0)
            return i;
    return piece;
}

static uint32_t shunned_by(const ks_order *order, uint32_t tags, bool whole_load)
{
    uint32_t conflicts = 0;
    for (int i = 0; i < order->rules.n_apart; i++) {
        const ks_apart *rule = &order->rules.apart[i];
        if (rule->whole_load != whole_load)
            continue;
        if (tags & rule->a)
            conflicts |= rule->b;
        if (tags & rule->b)
            conflicts |= rule->a;
    }
    return conflicts;
}

static int by_day(const void *a, const void *b)
{
    int x = *(const int *)a, y = *(const int *)b;
    return (x > y) - (x < y);
}

static bool has_waited(const ks_order *order, int item)
{
    return item < order->n_pieces && order->pieces[item].waited >= KS_WAITED_ENOUGH;
}

/* Ware that has waited long enough comes before the first day. */
static void put_waited_first(ks_job *job)
{
    bool some = false;
    for (int i = 0; i < job->order->n_pieces; i++)
        some = some || has_waited(job->order, i);
    if (!some)
        return;
    job->n_due++;
    for (int i = 0; i < job->n_items; i++)
        job->due_rank[i] = has_waited(job->order, i) ? 0
                           : job->due_rank[i] >= 0   ? job->due_rank[i] + 1
                                                     : -1;
}

static void rank_due_days(ks_job *job)
{
    const ks_order *order = job->order;
    int *days = KS_TAKE(job->arena, order->n_pieces, int), n = 0;
    for (int i = 0; i < order->n_pieces; i++)
        if (order->pieces[i].due_day != KS_NO_DAY)
            days[n++] = order->pieces[i].due_day;
    qsort(days, (size_t)n, sizeof *days, by_day);
    for (int k = 0; k < n; k++)
        if (job->n_due == 0 || days[k] > days[job->n_due - 1])
            days[job->n_due++] = days[k];
    job->due_rank = KS_TAKE(job->arena, job->n_items, int);
    for (int i = 0; i < job->n_items; i++) {
        job->due_rank[i] = -1;
        for (int d = 0; d < job->n_due && i < order->n_pieces; d++)
            job->due_rank[i] = order->pieces[i].due_day == days[d] ? d : job->due_rank[i];
    }
    put_waited_first(job);
}

static int pieces_of_owner(const ks_job *job, int first)
{
    int n = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        if (ks_job_has_owner(job, i) && !job->order->pieces[i].fill && job->items[i].owner == first)
            n += job->order->pieces[i].count;
    return n;
}

static void find_fair_most(ks_job *job)
{
    for (int i = 0; i < job->order->n_pieces && job->order->rules.fair; i++) {
        int n = job->items[i].owner == i ? pieces_of_owner(job, i) : 0;
        job->fair_most = n > job->fair_most ? n : job->fair_most;
    }
}

static double urgency_of(const ks_job *job, int item)
{
    double weight = job->order->pieces[item].must_go ? MUST_GO_WEIGHT : 1;
    for (int rank = job->due_rank[item]; rank >= 0 && rank < DUE_CLASSES; rank++)
        weight *= DUE_WEIGHT;
    return weight;
}

static void offer_piece(ks_job *job, int i)
{
    const ks_piece *piece = &job->order->pieces[i];
    ks_shelf_item *item = &job->items[i];
    ks_part *parts = KS_TAKE(job->arena, piece->n_parts, ks_part);
    for (int k = 0; k < piece->n_parts; k++) {
        parts[k] = piece->parts[k];
        parts[k].outline = ks_part_widest(&piece->parts[k], piece->outward_mm);
        if (parts[k].to_mm > job->height_mm[i])
            job->height_mm[i] = parts[k].to_mm;
    }
    job->worth[i] = piece->fill ? 0 : piece->worth; /* it is not part of what is asked */
    job->urgency[i] = urgency_of(job, i);
    job->area_mm2[i] = piece->area_mm2;
    *item = (ks_shelf_item){
        .n_parts = piece->n_parts,
        .parts = parts,
        .around_mm = piece->around_mm,
        .glazed = piece->glazed,
        .runny = piece->runny,
        .turn_step_deg = piece->turn_step_deg,
        .turn_first_deg = piece->turn_first_deg,
        .worth = piece->worth * job->urgency[i],
        .copies = piece->locked_out || piece->on_id ? 0 : piece->count,
        .mass_kg = piece->mass_kg,
        .tags = piece->tags,
        .conflicts = shunned_by(job->order, piece->tags, false),
        .owner = first_of_owner(job->order, i),
        .stacks = piece->ways != 0 || piece->lid_of,
        .filled_mm3 = ks_solid_mm3(piece),
    };
}

static void offer_cone_pack(ks_job *job, int item)
{
    const ks_cone_packs *cones = &job->order->rules.cones;
    ks_part *box = KS_TAKE(job->arena, 1, ks_part);
    *box = (ks_part){KS_PART_BODY,
                     0,
                     cones->height_mm,
                     ks_outline_rectangle(cones->width_mm, cones->depth_mm, 0, job->arena),
                     {0}};
    job->cone = item;
    job->height_mm[item] = cones->height_mm;
    job->urgency[item] = 1;
    job->area_mm2[item] = cones->width_mm * cones->depth_mm;
    job->items[item] = (ks_shelf_item){
        .n_parts = 1, .parts = box, .glazed = true, .owner = -1, .is_pinched = true};
}

static int name_set(ks_job *job, const char *name)
{
    if (!name || !name[0])
        return -1;
    for (int s = 0; s < job->n_sets; s++)
        if (strcmp(job->set_names[s], name) == 0)
            return s;
    job->set_names[job->n_sets] = name;
    return job->n_sets++;
}

/* Ware that stacks is told by many steps, for its depth; beside other ware few are enough. */
static int steps_of(const ks_job *job, int i, ks_part **parts)
{
    const ks_shelf_item *item = &job->items[i];
    if (item->stacks)
        return ks_parts_in_steps(item->n_parts, item->parts, job->arena, parts);
    *parts = KS_TAKE(job->arena, item->n_parts, ks_part);
    for (int k = 0; k < item->n_parts; k++)
        (*parts)[k] = item->parts[k];
    return item->n_parts;
}

static void make_lean(ks_job *job, int i)
{
    ks_part *parts;
    int n = steps_of(job, i, &parts);
    for (int k = 0; k < n; k++)
        if (parts[k].outline.n > KS_LEAN_CORNERS)
            parts[k].outline =
                ks_outline_simplified(&parts[k].outline, KS_LEAN_MM, true, job->arena);
    job->lean[i] = job->items[i];
    job->lean[i].n_parts = n;
    job->lean[i].parts = parts;
}

static bool stands_on_grog(const ks_shelf_item *item)
{
    for (int k = 0; k < item->n_parts; k++)
        if (item->parts[k].kind == KS_PART_GROG && item->parts[k].from_mm <= 0)
            return true;
    return false;
}

/* What every level asks of all the ware. */
static void sum_up(ks_job *job)
{
    for (int i = 0; i < job->n_items; i++) {
        const ks_shelf_item *item = &job->items[i];
        job->any_runny = job->any_runny || item->runny;
        job->any_on_grog = job->any_on_grog || stands_on_grog(item);
        job->widest_around_mm = fmax(job->widest_around_mm, item->around_mm);
    }
}

static void offer_tower(ks_job *job, int t)
{
    ks_shelf_item *item = &job->items[t];
    *item = ks_tower_item(job->order, &job->towers[t], job->items, job->arena);
    for (int p = 0; p < item->n_parts; p++) {
        job->height_mm[t] = fmax(job->height_mm[t], item->parts[p].to_mm);
        job->area_mm2[t] = fmax(job->area_mm2[t], ks_outline_area(&item->parts[p].outline));
    }
    for (int m = 0; m < ks_job_members(job, t); m++) {
        int piece = ks_job_member(job, t, m);
        job->worth[t] += job->worth[piece];
        job->urgency[t] = fmax(job->urgency[t], job->urgency[piece]);
    }
    job->set[t] = -1;
}

/* Behind all others; and of each item, what stands in its place. */
static void offer_towers(ks_job *job, int n, const ks_tower *found)
{
    ks_tower *towers = KS_TAKE(job->arena, job->n_items, ks_tower);
    ks_tower_member *alone = KS_TAKE(job->arena, job->first_tower, ks_tower_member);
    for (int i = 0; i < job->first_tower; i++) {
        alone[i] = (ks_tower_member){.piece = i, .on = -1};
        towers[i] = (ks_tower){1, &alone[i]};
    }
    for (int t = 0; t < n; t++)
        towers[job->first_tower + t] = found[t];
    job->towers = towers;
    for (int t = job->first_tower; t < job->n_items; t++)
        offer_tower(job, t);
}

/* Whether some kiln is so deep that hands do not reach its floor with the piece. */
static bool is_heavy_to_reach(const ks_order *order, int piece)
{
    for (int k = 0; k < order->n_kilns; k++)
        if (ks_arm_spare_kg(&order->rules, &order->pieces[piece], &order->kilns[k], 0) < 0)
            return true;
    return false;
}

static void list_items(ks_job *job)
{
    const ks_order *order = job->order;
    bool cones = order->rules.cones.wanted && order->rules.cones.height_mm > 0;
    const ks_tower *towers;
    int n_towers = ks_towers_of_order(order, job->arena, &towers);
    int n = order->n_pieces + 1 + n_towers;
    job->first_tower = order->n_pieces + cones;
    job->n_items = job->first_tower + n_towers;
    job->items = KS_TAKE(job->arena, n, ks_shelf_item);
    job->height_mm = KS_TAKE(job->arena, n, double);
    job->area_mm2 = KS_TAKE(job->arena, n, double);
    job->worth = KS_TAKE(job->arena, n, double);
    job->urgency = KS_TAKE(job->arena, n, double);
    job->set = KS_TAKE(job->arena, n, int);
    job->set_names = KS_TAKE(job->arena, n, const char *);
    job->cone = -1;
    rank_due_days(job);
    for (int i = 0; i < order->n_pieces; i++) {
        offer_piece(job, i);
        job->set[i] = name_set(job, order->pieces[i].set);
        ks_level_wish wish = ks_wish_of(order, &order->pieces[i]);
        job->any_wish = job->any_wish || ks_has_wish(&wish) || order->rules.n_no_ware > 0 ||
                        is_heavy_to_reach(order, i) || job->options.thirds;
        job->load_apart = job->load_apart || shunned_by(order, order->pieces[i].tags, true) != 0;
    }
    if (cones) {
        offer_cone_pack(job, order->n_pieces);
        job->set[order->n_pieces] = -1;
    }
    offer_towers(job, n_towers, towers);
    sum_up(job);
    find_fair_most(job);
    job->lean = KS_TAKE(job->arena, n, ks_shelf_item);
    for (int i = 0; i < job->n_items; i++)
        make_lean(job, i);
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

/* Of more heights than these every so-manieth stands for those up to the next, least and greatest
 * always for themselves: ware then counts as no taller than it is, and levels are looked at for
 * some. */
enum { HEIGHTS_MOST = 256 };

static void list_heights(ks_job *job)
{
    job->heights_mm = KS_TAKE(job->arena, job->n_items, double);
    for (int i = 0; i < job->n_items; i++)
        job->heights_mm[i] = job->height_mm[i];
    qsort(job->heights_mm, (size_t)job->n_items, sizeof(double), by_size);
    for (int i = 0; i < job->n_items; i++)
        if (job->n_heights == 0 || job->heights_mm[i] > job->heights_mm[job->n_heights - 1])
            job->heights_mm[job->n_heights++] = job->heights_mm[i];
    int n = job->n_heights;
    for (int h = 0; h < HEIGHTS_MOST && n > HEIGHTS_MOST; h++)
        job->heights_mm[h] = job->heights_mm[(int64_t)h * (n - 1) / (HEIGHTS_MOST - 1)];
    job->n_heights = n < HEIGHTS_MOST ? n : HEIGHTS_MOST;
}

/* The narrowest a piece can be turned, tried each degree. */
static double narrowest_mm(const ks_piece *piece)
{
    double narrowest = INFINITY;
    for (int turn = 0; turn < 180; turn++) {
        ks_rotation to = ks_rotation_of(turn);
        double least = INFINITY, most = -INFINITY;
        for (int p = 0; p < piece->n_parts; p++) {
            const ks_outline *shape = &piece->parts[p].outline;
            for (int i = 0; i < shape->n; i++) {
                double x = to.c * shape->at[i].x + to.s * shape->at[i].y;
                least = x - shape->round < least ? x - shape->round : least;
                most = x + shape->round > most ? x + shape->round : most;
            }
        }
        narrowest = most - least < narrowest ? most - least : narrowest;
    }
    return narrowest;
}

ks_door_lack ks_job_lacks_door(const ks_kiln *kiln, const ks_piece *piece)
{
    ks_door_lack lack = {0};
    if (kiln->loading != KS_FRONT_LOADER)
        return lack;
    if (kiln->opening_height_mm > 0)
        lack.low_mm = fmax(0, piece->height_mm - kiln->opening_height_mm);
    if (kiln->opening_width_mm > 0)
        lack.narrow_mm = fmax(0, narrowest_mm(piece) - kiln->opening_width_mm);
    return lack;
}

static bool passes_door(const ks_kiln *kiln, const ks_piece *piece)
{
    ks_door_lack lack = ks_job_lacks_door(kiln, piece);
    return lack.low_mm <= 0 && lack.narrow_mm <= 0;
}

/* The tilt at which the checker, too, wants it to stand. */
double ks_job_stands_by(const ks_piece *piece)
{
    return ks_piece_stands_by(piece, 5);
}

static bool may_load(const ks_job *job, int piece, int kiln, int firing)
{
    const ks_order *order = job->order;
    const ks_piece *it = &order->pieces[piece];
    return ks_piece_suits(order, it, &order->firings[firing], NULL) &&
           passes_door(&order->kilns[kiln], it) && ks_job_stands_by(it) >= 0 &&
           ks_lift_of(&order->rules, it, &order->kilns[kiln]).at_hand;
}

static int kind_of_load(ks_job *job, int kiln, int firing)
{
    for (int k = 0; k < job->n_kinds; k++)
        if (job->kinds[k].kiln == kiln && job->kinds[k].firing == firing)
            return k;
    const ks_order *order = job->order;
    ks_load_kind *kind = &job->kinds[job->n_kinds];
    *kind = (ks_load_kind){.kiln = kiln, .firing = firing, .rules = &order->rules};
    kind->clear = ks_order_clearance(order, &order->kilns[kiln]);
    kind->furniture = job->furniture;
    for (int k = 0; k < job->n_kinds && !kind->furniture; k++)
        if (job->kinds[k].kiln == kiln)
            kind->furniture = job->kinds[k].furniture;
    if (!kind->furniture) {
        ks_furniture *furniture = KS_TAKE(job->arena, 1, ks_furniture);
        ks_furniture_init(furniture, &order->kilns[kiln], job->arena);
        kind->furniture = furniture;
    }
    kind->suits = KS_TAKE(job->arena, job->n_items, bool);
    for (int i = 0; i < job->n_items; i++)
        kind->suits[i] = i >= order->n_pieces || may_load(job, i, kiln, firing);
    for (int i = job->first_tower; i < job->n_items; i++)
        for (int m = 0; m < ks_job_members(job, i); m++)
            kind->suits[i] = kind->suits[i] && kind->suits[ks_job_member(job, i, m)];
    return job->n_kinds++;
}

/* How much ware still without a load a firing would take, by the room it fills. */
static double demand_for(const ks_job *job, int kind, const double *share)
{
    double sum = 0;
    for (int i = 0; i < job->order->n_pieces; i++)
        if (job->kinds[kind].suits[i])
            sum += share[i] * job->items[i].copies * job->area_mm2[i] * job->height_mm[i] *
                   job->urgency[i];
    return sum;
}

/* A slot that leaves the firing open takes the one most ware is waiting for; what a load may take
 * is then counted as served in part. */
static void choose_firings(ks_job *job)
{
    const ks_order *order = job->order;
    double *share = KS_TAKE(job->arena, job->n_items + 1, double);
    for (int i = 0; i < job->n_items; i++)
        share[i] = 1;
    for (int s = 0; s < order->n_slots; s++) {
        const ks_slot *slot = &order->slots[s];
        int best = -1;
        for (int f = 0; f < order->n_firings; f++) {
            if (slot->firing >= 0 && slot->firing != f)
                continue;
            int kind = kind_of_load(job, slot->kiln, f);
            if (best < 0 || demand_for(job, kind, share) > demand_for(job, best, share))
                best = kind;
        }
        job->slot_kind[s] = best;
        for (int i = 0; i < order->n_pieces; i++)
            if (job->kinds[best].suits[i])
                share[i] *= 0.6;
    }
}

enum { HOUR_MIN = 60 };

static ks_load_times times_of(const ks_job *job, int slot)
{
    const ks_load_kind *kind = &job->kinds[job->slot_kind[slot]];
    int day = job->order->slots[slot].day;
    ks_load_hours hours = {0};
    if (day == KS_NO_DAY)
        return (ks_load_times){0};
    if (job->options.hours)
        hours = job->options.hours[kind->kiln * job->order->n_firings + kind->firing];
    int64_t on_min = ks_load_start(job->order, &(ks_load){.day = day}).local_min;
    return (ks_load_times){true, on_min, on_min + (int64_t)hours.cone_down * HOUR_MIN,
                           on_min + (int64_t)hours.ended * HOUR_MIN,
                           on_min + (int64_t)hours.open * HOUR_MIN};
}

static void find_times(ks_job *job)
{
    job->times = KS_TAKE(job->arena, job->n_slots, ks_load_times);
    for (int s = 0; s < job->n_slots; s++)
        job->times[s] = times_of(job, s);
}

ks_status ks_job_init(ks_job *job, const ks_order *order, const ks_place_options *options,
                      ks_arena *arena, ks_error *err)
{
    return ks_job_init_with(job, order, options, NULL, arena, err);
}

ks_status ks_job_init_with(ks_job *job, const ks_order *order, const ks_place_options *options,
                           const ks_furniture *furniture, ks_arena *arena, ks_error *err)
{
    *job = (ks_job){.order = order, .options = *options, .arena = arena, .furniture = furniture};
    if (order->n_kilns < 1 || order->n_firings < 1)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: the order names no kiln or no firing; name one of each",
                       order->file ? order->file : "order");
    list_items(job);
    list_heights(job);
    job->kinds = KS_TAKE(arena, order->n_kilns * order->n_firings, ks_load_kind);
    job->n_slots = order->n_slots;
    job->slot_kind = KS_TAKE(arena, order->n_slots, int);
    choose_firings(job);
    find_times(job);
    return KS_OK;
}

bool ks_job_is_alone(const ks_job *job)
{
    return job->n_slots == 1 && !job->is_share;
}

int ks_job_members(const ks_job *job, int item)
{
    return job->towers[item].n;
}

int ks_job_member(const ks_job *job, int item, int m)
{
    return job->towers[item].members[m].piece;
}

bool ks_job_has_owner(const ks_job *job, int item)
{
    return item < job->order->n_pieces && job->order->pieces[item].owner &&
           job->order->pieces[item].owner[0];
}

bool ks_job_is_kept_in(const ks_job *job, int slot, int item)
{
    const ks_keep *keep = &job->order->pieces[item].keep;
    return keep->kept && keep->load == slot;
}

bool ks_job_in_time(const ks_job *job, int slot, int item)
{
    return item >= job->order->n_pieces ||
           ks_is_in_time(&job->times[slot], job->order->pieces[item].due_day);
}

bool ks_job_is_wanted(const ks_job *job, int item)
{
    return item < job->order->n_pieces && !job->order->pieces[item].locked_out;
}

bool ks_job_is_fill(const ks_job *job, int item)
{
    return item < job->order->n_pieces && job->order->pieces[item].fill;
}

int ks_height_index(const ks_job *job, double clear_mm)
{
    int low = 0, high = job->n_heights;
    while (low < high) {
        int mid = (low + high) / 2;
        if (job->heights_mm[mid] <= clear_mm)
            low = mid + 1;
        else
            high = mid;
    }
    return low - 1;
}

double ks_job_cap(const ks_job *job, double clear_mm)
{
    int height = ks_height_index(job, clear_mm);
    return height < 0 ? 0 : job->heights_mm[height];
}

bool ks_job_keeps_shelves(const ks_job *job)
{
    return job->options.keep_shelves && job->options.from;
}
