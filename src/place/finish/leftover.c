#include "place/finish/leftover.h"

#include "base/language.h"
#include "kilnstow/fit.h"
#include "place/finish/by_itself.h"
#include "place/finish/change.h"
#include "place/draft/offer.h"
#include "place/stack/stack_bound.h"
#include "place/stack/stands_alone.h"
#include "studio/display.h"
#include "studio/lifting.h"
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

/* Another firing of the order that would do. */
static const char *other_firing(const question *q)
{
    const ks_order *order = q->job->order;
    for (int f = 0; f < order->n_firings; f++)
        if (ks_piece_suits(order, piece_of(q), &order->firings[f], q->arena, NULL))
            return ks_arena_print(q->arena, "a load fired as \"%s\"", order->firings[f].id);
    return NULL;
}

static bool tell_too_heavy_to_lift(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    if (q->job->n_kinds == 0)
        return false;
    ks_lift lift = ks_lift_of(&order->rules, piece_of(q), &order->kilns[q->job->kinds[0].kiln]);
    if (lift.at_hand)
        return false;
    out->detail =
        ks_arena_print(q->arena, "%s is too heavy to lift in with who and what is at hand",
                       ks_show_burden(&order->display, lift.mass_kg, 0, q->arena));
    const char *who = ks_lift_who(&lift, &order->display, q->arena);
    out->nearest = lift.people > 0 ? ks_arena_print(q->arena, "%s, or a hoist", who) : who;
    return true;
}

/* Of the kilns in which it is fired as suits it, the one whose doorway lacks least. */
static bool tell_door(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    ks_door_lack least = {INFINITY, 0};
    const ks_kiln *nearest = NULL;
    for (int k = 0; k < q->job->n_kinds; k++) {
        const ks_kiln *kiln = &order->kilns[q->job->kinds[k].kiln];
        ks_door_lack lack = ks_job_lacks_door(kiln, piece_of(q));
        if (!ks_piece_suits(order, piece_of(q), &order->firings[q->job->kinds[k].firing], q->arena,
                            NULL) ||
            fmax(lack.low_mm, lack.narrow_mm) >= fmax(least.low_mm, least.narrow_mm))
            continue;
        least = lack;
        nearest = kiln;
    }
    bool low = least.low_mm > 0;
    double by = low ? least.low_mm : least.narrow_mm;
    if (!nearest || by <= 0)
        return false;
    const char *lack = ks_show_lack(&order->display, by, q->arena);
    out->why = low ? "too tall" : "too wide";
    out->detail = ks_arena_print(q->arena, "by %s for the doorway of %s", lack, nearest->id);
    out->nearest =
        ks_arena_print(q->arena, "a kiln with a doorway %s %s", lack, low ? "higher" : "wider");
    return true;
}

static void tell_unsuited(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    const char *why = NULL;
    double stands_by = ks_job_stands_by(piece_of(q));
    out->why = "unsuited";
    if (stands_by < 0) {
        out->detail = ks_arena_print(
            q->arena, "it falls over on a shelf tilted by 5 degrees; its feet lack %s",
            ks_show_lack(&order->display, -stands_by, q->arena));
        return;
    }
    if (tell_too_heavy_to_lift(q, out) || tell_door(q, out))
        return;
    if (q->job->n_slots > 0)
        ks_piece_suits(order, piece_of(q),
                       &order->firings[q->job->kinds[q->job->slot_kind[0]].firing], q->arena, &why);
    out->detail = why ? why : "no load is fired so that it suits";
    const char *other = other_firing(q);
    if (other)
        out->nearest = other;
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
static bool tell_too_tall(const question *q, ks_left_out *out)
{
    double by = too_tall_mm(q);
    if (!(by > 0))
        return false;
    out->why = "too tall";
    out->detail = ks_arena_print(q->arena, "by %s, standing by itself",
                                 ks_show_lack(&q->job->order->display, by, q->arena));
    return true;
}

static bool tell_unknown(const question *q, ks_left_out *out)
{
    out->why = "displaced";
    out->detail = "by ware worth more, or it goes in nowhere: so much waits that this is not known";
    out->nearest = ks_arena_print(q->arena, "\"kilnstow fit\" tells what \"%s\" needs", out->id);
    return true;
}

/* Does it go in by itself, into any kiln that is fired so that it suits? */
static bool tell_misfit(const question *q, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    double above = -INFINITY, around = -INFINITY;
    bool for_hand = false; /* which tell_barred tells */
    const char *nearest = "";
    if (q->early)
        return tell_too_tall(q, out);
    if (stands_alone(q))
        return false;
    if (*q->fits <= 0)
        return tell_too_tall(q, out) || tell_unknown(q, out);
    for (int k = 0; k < q->job->n_kinds; k++) {
        ks_fit_options options = ks_fit_default();
        ks_fit_answer fit;
        *q->fits -= q->job->kinds[k].suits[q->item];
        if (!q->job->kinds[k].suits[q->item] ||
            ks_fit(order, q->item, &order->kilns[q->job->kinds[k].kiln], &options, q->arena, &fit,
                   NULL) != KS_OK ||
            fit.n_visits == 0)
            continue;
        if (fit.goes_in)
            return false;
        const ks_fit_way *best = &fit.visits[fit.tightest].best;
        above = best->above_mm > above ? best->above_mm : above;
        around = best->around_mm > around ? best->around_mm : around;
        for_hand |= best->tight_for_hand;
        nearest = fit.nearest;
    }
    if (above >= 0 && (around >= 0 || for_hand))
        return false;
    bool tall = above < 0 && above <= around;
    out->why = tall ? "too tall" : "too wide";
    out->detail =
        ks_arena_print(q->arena, "by %s, standing by itself",
                       ks_show_lack(&q->job->order->display, -(tall ? above : around), q->arena));
    if (nearest && nearest[0])
        out->nearest = nearest;
    return true;
}

static void tell_hands(const question *q, double room_mm, ks_left_out *out)
{
    const ks_order *order = q->job->order;
    out->why = "too wide";
    out->detail =
        ks_arena_print(q->arena, "at neither side of it hands find %s of room",
                       ks_show_lack(&order->display, order->rules.hand_room_mm, q->arena));
    out->nearest = room_mm > 0 ? ks_arena_print(q->arena,
                                                "it goes in with \"hand_room\": \"%s\" in the "
                                                "rules, if hands can do with that",
                                                ks_show_spare(&order->display, room_mm, q->arena))
                               : "it goes in with \"hand_room\": 0 in the rules, if it can be put "
                                 "in without hands beside it, say on a board";
}

static void tell_no_place_for_cones(ks_left_out *out)
{
    out->why = "no room left this time";
    out->detail = "no shelves were found that have a place for it and for cone packs";
    out->nearest = "it goes in with \"cones\": false in the rules, or with packs on fewer levels";
}

static void tell_too_heavy_with_shelves(const question *q, int kind, double mass_kg,
                                        ks_left_out *out)
{
    const ks_order *order = q->job->order;
    const ks_kiln *kiln = &order->kilns[q->job->kinds[kind].kiln];
    out->why = "mass";
    out->detail =
        ks_arena_print(q->arena,
                       "%s with the shelves and posts under it is more than the %s that "
                       "%s may carry",
                       ks_show_mass(&order->display, mass_kg, q->arena),
                       ks_show_mass(&order->display, kiln->mass_limit_kg, q->arena), kiln->id);
    out->nearest = "lighter shelves, or fewer; if the kiln carries more, its mass_limit";
}

static bool is_fired(const question *q, int kind)
{
    for (int s = 0; s < q->draft->n_loads; s++)
        if (q->draft->loads[s].kind == kind && q->draft->loads[s].n_levels > 0)
            return true;
    return false;
}

/* Does a rule of the order keep it out of every load, even by itself? */
static bool tell_barred(const question *q, ks_left_out *out)
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
static void tell_change(const question *q, ks_left_out *out)
{
    if (q->early && !stands_alone(q))
        out->detail = "or it never goes in: why was not worked out, since planning was ended early";
    if (q->early)
        out->nearest = "not looked for, since planning was ended early";
    if (!q->look || q->early)
        return;
    ks_order_change change = ks_change_find(q->job, q->draft, q->plan, q->item, q->arena);
    if (change.text)
        out->nearest = change.text;
    if (change.short_by_mm > 0)
        out->detail =
            ks_arena_print(q->arena, "every level of this plan is too low for it, by %s or more",
                           ks_show_lack(&q->job->order->display, change.short_by_mm, q->arena));
}

static void tell_no_room(const question *q, ks_left_out *out)
{
    const char *mate = q->job->set[q->item] >= 0 ? mate_of(q) : NULL;
    out->why = "no room left this time";
    if (mate) {
        out->why = "set";
        out->detail = ks_arena_print(
            q->arena, "no load has room for all of it; \"%s\" of the same set waits too", mate);
        return;
    }
    tell_change(q, out);
    if (is_kept_apart(q)) {
        out->why = "apart";
        out->detail = "what it must be kept from is in the load";
    } else if (is_over_quota(q)) {
        out->why = "held back";
        out->detail =
            ks_arena_print(q->arena, "the quota of \"%s\" is used up", piece_of(q)->owner);
        out->nearest = ks_arena_print(q->arena, "a larger quota for \"%s\"", piece_of(q)->owner);
    } else if (piece_of(q)->due_day != KS_NO_DAY && is_due_later(q)) {
        out->why = "due later";
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
    const ks_display *display = &q->job->order->display;
    out->why = "mass";
    out->detail = ks_arena_print(
        q->arena, "%s is more than the %s that a shelf or the kiln may carry in this firing",
        ks_show_mass(display, piece_of(q)->mass_kg, q->arena),
        ks_show_mass(display, borne_kg(q), q->arena));
    out->nearest = "a thicker shelf, or one of silicon carbide; if yours bears more, its safe_load";
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
    out->why = "held back";
    out->detail = ks_arena_print(q->arena,
                                 "it is kept for level %d of the order's load %d, and has no place "
                                 "there",
                                 keep->level + 1, keep->load + 1);
    out->nearest = "take \"keep\" off it, or keep it elsewhere";
}

static const char *level_words(const question *q, const ks_level_wish *wish)
{
    switch (wish->word) {
    case KS_BOTTOM:
        return ks_tr("the bottom level");
    case KS_LOW:
        return ks_tr("the lower half of the levels");
    case KS_TOP:
        return ks_tr("a top level");
    case KS_ON_TIER:
        return ks_arena_print(q->arena, "level %d", wish->tier);
    case KS_NOT_ON_TIER:
        return ks_arena_print(q->arena, "any level but %d", wish->tier);
    case KS_ANY_LEVEL:
        break;
    }
    return "";
}

static void tell_wish(const question *q, ks_left_out *out)
{
    ks_level_wish wish = ks_wish_of(q->job->order, piece_of(q));
    bool of_its_kind = piece_of(q)->wish.word == KS_ANY_LEVEL && !wish.beside;
    out->why = "held back";
    if (wish.beside && wish.word == KS_ANY_LEVEL)
        out->detail = ks_arena_print(
            q->arena, "it is to stand beside %s, and no room is left there", wish.beside);
    else
        out->detail = ks_arena_print(q->arena, "it is to stand on %s, and no room is left there",
                                     level_words(q, &wish));
    out->nearest =
        of_its_kind ? "take its tag out of \"low\" in the rules" : "take \"keep\" off it";
}

static bool is_heavy_to_reach(const question *q)
{
    const ks_kiln *kiln = &q->job->order->kilns[q->job->kinds[suited_kind(q)].kiln];
    return ks_arm_spare_kg(&q->job->order->rules, piece_of(q), kiln, 0) < 0;
}

static void tell_arm(const question *q, ks_left_out *out)
{
    const ks_rules *rules = &q->job->order->rules;
    const ks_display *display = &q->job->order->display;
    out->why = "held back";
    out->detail = ks_arena_print(
        q->arena, "it weighs %s and is set down no deeper than %s; no room is left higher up",
        ks_show_mass(display, piece_of(q)->bare_mass_kg, q->arena),
        ks_show_length(display, rules->arm_mm, q->arena));
    out->nearest = "tell a longer \"arm\" in the rules, or a hoist";
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
    out.nearest = "no single change found";
    if (piece->locked_out || piece->on_id) {
        out.count = piece->count;
        out.why = "held back";
        out.detail = piece->locked_out ? "the order tells it to wait"
                                       : "it is to stand on another piece; planning does not stack";
        out.nearest = piece->locked_out ? "take \"wait\" off it" : "let it stand on a shelf";
    } else if (suited_kind(q) < 0) {
        tell_unsuited(q, &out);
    } else if (is_too_heavy(q)) {
        tell_too_heavy(q, &out);
    } else if (tell_misfit(q, &out)) {
        return out;
    } else if (waits_for_its_place(q)) {
        tell_kept(q, &out);
    } else if (is_wished(q)) {
        tell_wish(q, &out);
    } else if (is_heavy_to_reach(q)) {
        tell_arm(q, &out);
    } else if (!tell_barred(q, &out)) {
        tell_no_room(q, &out);
    }
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
