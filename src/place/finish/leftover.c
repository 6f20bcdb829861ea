#include "place/finish/leftover.h"

#include "base/number.h"
#include "kilnstow/fit.h"
#include "place/finish/by_itself.h"
#include "place/finish/change.h"
#include "place/draft/offer.h"
#include "place/stack/stack_bound.h"
#include "place/stack/stands_alone.h"
#include "studio/lifting.h"
#include "studio/parts.h"
#include "studio/wish.h"

#include <math.h>
#include <string.h>

typedef struct {
    const ks_job *job;
    const ks_draft *draft;
    const ks_plan *plan;
    ks_arena *arena;
    int item;
    bool look;  /* whether changes are still tried: their number is bounded */
    bool early; /* none is tried at all */
    int *fits;  /* how many more times `fit` may be asked, of all that waits */
} question;

static const ks_piece *piece_of(const question *q)
{
    return &q->job->order->pieces[q->item];
}

/* A kind of load among the slots that suits the piece, -1 if none. */
static int suited_kind(const question *q)
{
    for (int s = 0; s < q->job->n_slots; s++)
        if (q->job->kinds[q->job->slot_kind[s]].suits[q->item])
            return q->job->slot_kind[s];
    return -1;
}

/* Another firing of the order that would do; NULL where there is none. */
static const ks_firing *other_firing(const question *q)
{
    const ks_order *order = q->job->order;
    for (int f = 0; f < order->n_firings; f++)
        if (ks_piece_suits(order, piece_of(q), &order->firings[f], NULL))
            return &order->firings[f];
    return NULL;
}

static bool judge_lifting(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    if (q->job->n_kinds == 0)
        return false;
    ks_lift lift = ks_lift_of(&order->rules, piece_of(q), &order->kilns[q->job->kinds[0].kiln]);
    if (lift.at_hand)
        return false;
    out->rule = (ks_reason){.name = KS_WHY_TOO_HEAVY_TO_LIFT, .lifted_kg = lift.mass_kg};
    out->change = ks_lift_needs(&lift);
    return true;
}

/* Of the kilns in which it is fired as suits it, the one whose doorway lacks least. */
static bool judge_doorway(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    ks_door_lack least = {INFINITY, 0};
    const ks_kiln *nearest = NULL;
    for (int k = 0; k < q->job->n_kinds; k++) {
        const ks_kiln *kiln = &order->kilns[q->job->kinds[k].kiln];
        ks_door_lack lack = ks_job_lacks_door(kiln, piece_of(q));
        if (!ks_piece_suits(order, piece_of(q), &order->firings[q->job->kinds[k].firing], NULL) ||
            fmax(lack.low_mm, lack.narrow_mm) >= fmax(least.low_mm, least.narrow_mm))
            continue;
        least = lack;
        nearest = kiln;
    }
    bool low = least.low_mm > 0;
    double by = low ? least.low_mm : least.narrow_mm;
    if (!nearest || by <= 0)
        return false;
    out->rule = (ks_reason){
        .name = low ? KS_WHY_DOORWAY_LOW : KS_WHY_DOORWAY_NARROW, .by_mm = by, .kiln = nearest->id};
    out->change =
        (ks_reason){.name = low ? KS_CHANGE_DOORWAY_HIGHER : KS_CHANGE_DOORWAY_WIDER, .by_mm = by};
    return true;
}

static void judge_firing(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    out->rule = (ks_reason){.name = KS_WHY_NO_FIRING};
    if (q->job->n_slots > 0)
        ks_piece_suits(order, piece_of(q),
                       &order->firings[q->job->kinds[q->job->slot_kind[0]].firing], &out->rule);
    const ks_firing *other = other_firing(q);
    if (out->rule.name == KS_WHY_STILL_WET)
        out->change = (ks_reason){.name = KS_CHANGE_DRY_FIRST};
    else if (out->rule.name == KS_WHY_STILL_LOSES_WATER)
        out->change = (ks_reason){.name = KS_CHANGE_WEIGH_ON};
    else if (other)
        out->change = (ks_reason){.name = KS_CHANGE_OTHER_FIRING, .firing = other->id};
}

static void judge_unsuited(const question *q, ks_left_out *out)
{
    double stands_by = ks_job_stands_by(piece_of(q));
    if (stands_by < 0) {
        out->rule = (ks_reason){.name = KS_WHY_FALLS};
        out->change = ks_piece_upheld(stands_by);
    } else if (!judge_lifting(q, out) && !judge_doorway(q, out))
        judge_firing(q, out);
}

static bool stands_alone(const question *q)
{
    for (int k = 0; k < q->job->n_kinds; k++)
        if (ks_stands_alone(q->job, k, q->item))
            return true;
    return false;
}

/* By how much it is higher than the highest kiln that suits it; 0 or less: not at all. */
static double too_tall_mm(const question *q)
{
    double least = INFINITY;
    for (int k = 0; k < q->job->n_kinds; k++) {
        const ks_load_kind *kind = &q->job->kinds[k];
        ks_um height = ks_um_of(kind->furniture->kiln->height_mm);
        if (kind->suits[q->item])
            least = fmin(least, q->job->height_mm[q->item] - ks_gap_clear_mm(kind, height, true));
    }
    return least;
}

/* What can be told at once, where there is no time to ask `fit`, or too much to ask. */
static bool judge_height(const question *q, ks_left_out *out)
{
    double by = too_tall_mm(q);
    if (!(by > 0))
        return false;
    out->rule = (ks_reason){.name = KS_WHY_TOO_TALL, .by_mm = by};
    return true;
}

static bool leave_open(ks_left_out *out)
{
    out->rule = (ks_reason){.name = KS_WHY_NOT_KNOWN};
    out->change = (ks_reason){.name = KS_CHANGE_ASK_FIT, .id = out->id};
    return true;
}

/* By how much it misses the kilns that suit it, each the least of all; what would let it in. */
typedef struct {
    double above_mm, around_mm; /* negative: missing */
    bool for_hand;              /* which the rules that bar it tell */
    ks_reason change;
} misfit;

/* Whether it goes into a kiln of this kind; if not, that is noted. */
static bool goes_into(const question *q, int kind, misfit *noted)
{
    ks_fit_options options = ks_fit_default();
    ks_fit_answer fit;
    bool suits = q->job->kinds[kind].suits[q->item];
    *q->fits -= suits;
    if (!suits ||
        ks_fit(q->job->order, q->item, &q->job->order->kilns[q->job->kinds[kind].kiln], &options,
               q->arena, &fit, NULL) != KS_OK ||
        fit.n_visits == 0)
        return false;
    const ks_fit_way *best = &fit.visits[fit.tightest].best;
    noted->above_mm = fmax(best->above_mm, noted->above_mm);
    noted->around_mm = fmax(best->around_mm, noted->around_mm);
    noted->for_hand |= best->tight_for_hand;
    if (!fit.goes_in && fit.n_changes > 0)
        noted->change = fit.changes[0];
    return fit.goes_in;
}

/* Does it go in by itself, into any kiln that is fired so that it suits? */
static bool judge_fit(const question *q, ks_left_out *out)
{
    misfit missed = {.above_mm = -INFINITY, .around_mm = -INFINITY};
    if (q->early)
        return judge_height(q, out);
    if (stands_alone(q))
        return false;
    if (*q->fits <= 0)
        return judge_height(q, out) || leave_open(out);
    for (int k = 0; k < q->job->n_kinds; k++)
        if (goes_into(q, k, &missed))
            return false;
    if (missed.above_mm >= 0 && (missed.around_mm >= 0 || missed.for_hand))
        return false;
    bool tall = missed.above_mm < 0 && missed.above_mm <= missed.around_mm;
    out->rule = (ks_reason){.name = tall ? KS_WHY_TOO_TALL : KS_WHY_TOO_WIDE,
                            .by_mm = -(tall ? missed.above_mm : missed.around_mm)};
    if (missed.change.name != KS_UNTOLD)
        out->change = missed.change;
    return true;
}

static void tell_hands(const question *q, double room_mm, ks_left_out *out)
{
    out->rule = (ks_reason){.name = KS_WHY_HANDS, .by_mm = q->job->order->rules.hand_room_mm};
    out->change = (ks_reason){.name = room_mm > 0 ? KS_CHANGE_HAND_ROOM : KS_CHANGE_NO_HAND_ROOM,
                              .room_mm = room_mm};
}

static void tell_no_place_for_cones(ks_left_out *out)
{
    out->rule = (ks_reason){.name = KS_WHY_CONE_PACKS};
    out->change = (ks_reason){.name = KS_CHANGE_FEWER_PACKS};
}

static void tell_too_heavy_with_shelves(const question *q, int kind, double mass_kg,
                                        ks_left_out *out)
{
    const ks_kiln *kiln = &q->job->order->kilns[q->job->kinds[kind].kiln];
    out->rule = (ks_reason){.name = KS_WHY_MASS_WITH_SHELVES,
                            .mass_kg = mass_kg,
                            .most_kg = kiln->mass_limit_kg,
                            .kiln = kiln->id};
    out->change = (ks_reason){.name = KS_CHANGE_LIGHTER_SHELVES};
}

static bool is_fired(const question *q, int kind)
{
    for (int s = 0; s < q->draft->n_loads; s++)
        if (q->draft->loads[s].kind == kind && q->draft->loads[s].n_levels > 0)
            return true;
    return false;
}

/* Does a rule of the order keep it out of every load, even by itself? */
static bool judge_rules(const question *q, ks_left_out *out)
{
    ks_by_itself found = {.bar = KS_BAR_OTHER};
    int kind = -1;
    for (int k = 0; k < q->job->n_kinds && q->look && !q->early; k++) {
        if (is_fired(q, k) && q->job->kinds[k].suits[q->item] &&
            ks_surely_by_itself(q->job, k, q->item))
            return false;
        ks_by_itself here = ks_by_itself_find(q->job, k, q->item);
        if (here.bar == KS_BAR_NONE)
            return false;
        if (here.bar < found.bar) {
            found = here;
            kind = k;
        }
    }
    if (found.bar == KS_BAR_HANDS)
        tell_hands(q, found.hand_room_mm, out);
    else if (found.bar == KS_BAR_CONES)
        tell_no_place_for_cones(out);
    else if (found.bar == KS_BAR_MASS)
        tell_too_heavy_with_shelves(q, kind, found.mass_kg, out);
    return found.bar < KS_BAR_OTHER;
}

/* Each piece that stands on the levels of a load, one by one; from -1. False after the last. */
typedef struct {
    int level, spot, member;
} walk;

static const walk before_first = {0, 0, -1};

static bool next_piece(const ks_job *job, const ks_draft_load *load, walk *at, int *piece)
{
    for (at->member++; at->level < load->n_levels; at->level++, at->spot = at->member = 0) {
        const ks_shelf_layout *layout = &load->levels[at->level].layout;
        for (; at->spot < layout->n_spots; at->spot++, at->member = 0)
            if (at->member < ks_job_members(job, layout->spots[at->spot].item)) {
                *piece = ks_job_member(job, layout->spots[at->spot].item, at->member);
                return true;
            }
    }
    return false;
}

static bool is_with(const ks_draft_load *load, const question *q, uint32_t conflicts)
{
    int other;
    for (walk at = before_first; next_piece(q->job, load, &at, &other);)
        if (other != q->item && q->job->items[other].tags & conflicts)
            return true;
    return false;
}

/* Every load it suits holds what it must be kept from. */
static bool is_kept_apart(const question *q)
{
    uint32_t conflicts = ks_load_shuns(q->job, q->item);
    bool any = false;
    for (int s = 0; s < q->draft->n_loads && conflicts; s++) {
        const ks_draft_load *load = &q->draft->loads[s];
        if (load->n_levels == 0 || !q->job->kinds[load->kind].suits[q->item])
            continue;
        if (!is_with(load, q, conflicts))
            return false;
        any = true;
    }
    return any;
}

static bool is_over_quota(const question *q)
{
    const ks_order *order = q->job->order;
    for (int m = 0; m < order->n_members; m++) {
        const ks_member *member = &order->members[m];
        if (!piece_of(q)->owner || strcmp(member->id, piece_of(q)->owner) != 0 ||
            (member->quota_litres <= 0 && member->quota_pieces <= 0))
            continue;
        double litres = piece_of(q)->volume_mm3 / 1e6;
        int pieces = 1, item;
        for (int s = 0; s < q->draft->n_loads; s++)
            for (walk at = before_first; next_piece(q->job, &q->draft->loads[s], &at, &item);) {
                if (item >= order->n_pieces || !order->pieces[item].owner ||
                    strcmp(order->pieces[item].owner, member->id) != 0)
                    continue;
                litres += order->pieces[item].volume_mm3 / 1e6;
                pieces++;
            }
        int loads = q->draft->n_loads;
        return (member->quota_litres > 0 && litres > loads * member->quota_litres) ||
               (member->quota_pieces > 0 && pieces > loads * member->quota_pieces);
    }
    return false;
}

static const char *mate_of(const question *q)
{
    for (int i = 0; i < q->job->order->n_pieces; i++)
        if (i != q->item && q->job->set[i] == q->job->set[q->item] && q->draft->left[i] > 0)
            return q->job->order->pieces[i].id;
    return NULL;
}

/* Dated later than some ware that did go in. */
static bool is_due_later(const question *q)
{
    int due = piece_of(q)->due_day, item;
    for (int s = 0; s < q->draft->n_loads; s++)
        for (walk at = before_first; next_piece(q->job, &q->draft->loads[s], &at, &item);)
            if (item < q->job->order->n_pieces && q->job->order->pieces[item].due_day < due)
                return true;
    return false;
}

/* A change that was built and keeps every clearance. */
static void look_for_change(const question *q, ks_left_out *out)
{
    if (q->early && !stands_alone(q))
        out->rule = (ks_reason){.name = KS_WHY_ENDED_EARLY};
    if (q->early)
        out->change = (ks_reason){.name = KS_CHANGE_NOT_LOOKED_FOR};
    if (!q->look || q->early)
        return;
    ks_order_change found = ks_change_find(q->job, q->draft, q->plan, q->item, q->arena);
    if (found.change.name != KS_UNTOLD)
        out->change = found.change;
    if (found.short_by_mm > 0)
        out->rule = (ks_reason){.name = KS_WHY_LEVELS_LOW, .by_mm = found.short_by_mm};
}

static void judge_room(const question *q, ks_left_out *out)
{
    const char *mate = q->job->set[q->item] >= 0 ? mate_of(q) : NULL;
    bool later = piece_of(q)->due_day != KS_NO_DAY && is_due_later(q);
    out->rule = (ks_reason){.name = later ? KS_WHY_DUE_LATER : KS_WHY_NO_ROOM};
    if (mate) {
        out->rule = (ks_reason){.name = KS_WHY_SET, .id = mate};
        return;
    }
    look_for_change(q, out);
    if (is_kept_apart(q)) {
        out->rule = (ks_reason){.name = KS_WHY_APART};
    } else if (is_over_quota(q)) {
        out->rule = (ks_reason){.name = KS_WHY_QUOTA, .member = piece_of(q)->owner};
        out->change = (ks_reason){.name = KS_CHANGE_QUOTA, .member = piece_of(q)->owner};
    }
}

/* The strongest of the shelves of all ways to set up a column. */
static double column_bears_kg(const question *q, const ks_load_kind *kind, int standing, int column)
{
    const ks_column *c = &kind->furniture->post_layouts[standing].columns[column];
    ks_stack_level level = {.standing = standing, .column = column};
    double most = 0;
    for (int i = 0; i < c->n_ways * c->n_bays; i++) {
        level.bay = c->bays[i % c->n_bays];
        level.support = c->ways[i / c->n_bays].supports[i % c->n_bays];
        level.under = ks_floor_gap(kind->furniture, -1) ? -1 : 0;
        const ks_bay *bay = &kind->furniture->kiln->bays[level.bay];
        for (int s = 0; s < bay->supports[level.support].n_shelves; s++)
            most = fmax(most, ks_level_shelf_kg(q->job, kind, &level, s));
    }
    return most;
}

/* What the strongest shelf that it may stand on bears, and the most its kiln carries. */
static double borne_kg(const question *q)
{
    double most = 0;
    for (int k = 0; k < q->job->n_kinds; k++) {
        const ks_load_kind *kind = &q->job->kinds[k];
        const ks_furniture *f = kind->furniture;
        double whole = f->kiln->mass_limit_kg > 0 ? f->kiln->mass_limit_kg : INFINITY;
        for (int s = 0; s < f->n_post_layouts && kind->suits[q->item]; s++)
            for (int c = 0; c < f->post_layouts[s].n_columns; c++)
                most = fmax(most, fmin(whole, column_bears_kg(q, kind, s, c)));
    }
    return most;
}

static bool is_too_heavy(const question *q)
{
    return piece_of(q)->mass_kg > borne_kg(q);
}

static void tell_too_heavy(const question *q, ks_left_out *out)
{
    out->rule =
        (ks_reason){.name = KS_WHY_MASS, .mass_kg = piece_of(q)->mass_kg, .most_kg = borne_kg(q)};
    out->change = (ks_reason){.name = KS_CHANGE_STRONGER_SHELF};
}

/* Whether all that waits is the copy that is to stand in a place of its own. */
static bool waits_for_its_place(const question *q)
{
    const ks_keep *keep = &piece_of(q)->keep;
    return keep->kept && q->draft->left[q->item] == 1 &&
           !ks_draft_is_pinned(q->draft, keep->load, q->item);
}

static void tell_kept(const question *q, ks_left_out *out)
{
    const ks_keep *keep = &piece_of(q)->keep;
    out->rule = (ks_reason){.name = KS_WHY_KEPT,
                            .load = keep->load + 1,
                            .level = ks_number_print(keep->level + 1, q->arena)};
    out->change = (ks_reason){.name = KS_CHANGE_KEEP_ELSEWHERE};
}

/* What the order itself holds back. */
static void tell_held_back(const ks_piece *piece, ks_left_out *out)
{
    bool waits = piece->locked_out;
    out->count = piece->count;
    out->rule = (ks_reason){.name = waits ? KS_WHY_WAITS : KS_WHY_ON_ANOTHER};
    out->change = (ks_reason){.name = waits ? KS_CHANGE_WAIT_NO_MORE : KS_CHANGE_ON_SHELF};
}

static ks_reason_name wish_rule(const ks_level_wish *wish)
{
    switch (wish->word) {
    case KS_BOTTOM:
        return KS_WHY_WISHED_BOTTOM;
    case KS_LOW:
        return KS_WHY_WISHED_LOW;
    case KS_TOP:
        return KS_WHY_WISHED_TOP;
    case KS_ON_TIER:
        return KS_WHY_WISHED_LEVEL;
    case KS_NOT_ON_TIER:
        return KS_WHY_WISHED_NOT_LEVEL;
    case KS_ANY_LEVEL:
        break;
    }
    return KS_WHY_WISHED_BESIDE;
}

static void tell_wish(const question *q, ks_left_out *out)
{
    ks_level_wish wish = ks_wish_of(q->job->order, piece_of(q));
    bool of_its_kind = piece_of(q)->wish.word == KS_ANY_LEVEL && !wish.beside;
    out->rule = (ks_reason){
        .name = wish_rule(&wish), .id = wish.beside, .level = ks_number_print(wish.tier, q->arena)};
    out->change = (ks_reason){.name = of_its_kind ? KS_CHANGE_TAG_OUT_OF_LOW : KS_CHANGE_KEEP_OFF};
}

static bool is_heavy_to_reach(const question *q)
{
    const ks_kiln *kiln = &q->job->order->kilns[q->job->kinds[suited_kind(q)].kiln];
    return ks_arm_spare_kg(&q->job->order->rules, piece_of(q), kiln, 0) < 0;
}

static void tell_arm(const question *q, ks_left_out *out)
{
    out->rule = (ks_reason){.name = KS_WHY_BEYOND_REACH,
                            .mass_kg = piece_of(q)->bare_mass_kg,
                            .length_mm = q->job->order->rules.arm_mm};
    out->change = (ks_reason){.name = KS_CHANGE_LONGER_ARM};
}

static bool is_wished(const question *q)
{
    ks_level_wish wish = ks_wish_of(q->job->order, piece_of(q));
    return ks_has_wish(&wish);
}

static ks_left_out judge(const question *q)
{
    const ks_piece *piece = piece_of(q);
    ks_left_out out = {.piece = q->item, .id = piece->id, .count = q->draft->left[q->item]};
    out.change.name = KS_CHANGE_NONE;
    if (piece->locked_out || piece->on_id)
        tell_held_back(piece, &out);
    else if (suited_kind(q) < 0)
        judge_unsuited(q, &out);
    else if (is_too_heavy(q))
        tell_too_heavy(q, &out);
    else if (judge_fit(q, &out))
        return out;
    else if (waits_for_its_place(q))
        tell_kept(q, &out);
    else if (is_wished(q))
        tell_wish(q, &out);
    else if (is_heavy_to_reach(q))
        tell_arm(q, &out);
    else if (!judge_rules(q, &out))
        judge_room(q, &out);
    return out;
}

enum { FITS_LOOKED_FOR = 64 };

void ks_leftover_list(const ks_job *job, const ks_draft *draft, bool look, ks_plan *plan,
                      ks_arena *arena)
{
    int fits = FITS_LOOKED_FOR;
    plan->left_out = KS_TAKE(arena, job->order->n_pieces, ks_left_out);
    for (int i = 0; i < job->order->n_pieces; i++) {
        if (job->order->pieces[i].fill)
            continue;
        question q = {.job = job,
                      .draft = draft,
                      .plan = plan,
                      .arena = arena,
                      .item = i,
                      .look = plan->n_left_out < KS_CHANGES_LOOKED_FOR,
                      .early = !look || ks_stop_is_asked(job->stop),
                      .fits = &fits};
        if (draft->left[i] > 0 || !ks_job_is_wanted(job, i) || job->order->pieces[i].on_id)
            plan->left_out[plan->n_left_out++] = judge(&q);
    }
}
