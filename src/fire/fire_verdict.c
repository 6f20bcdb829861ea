/* Whether every piece saw what it asks for, and what would cure it. */
#include "fire/case.h"

#include "base/language.h"
#include "kilnstow/cone.h"
#include "studio/display.h"
#include "studio/level_name.h"

#include <math.h>
#include <string.h>

typedef struct {
    const ks_fire_case *asked;
    ks_arena *arena;
    ks_firing_result *out;
    int room;
    double least_k, most_k; /* a shift of the end that serves all so far */
} judge;

static int place_or(const char *cone, int otherwise)
{
    int place = cone && *cone ? ks_cone_find(cone) : -1;
    return place < 0 ? otherwise : place;
}

static double saw_at(const ks_level_fired *level, bool middle)
{
    return middle ? level->cone_middle : level->cone_edge;
}

static bool suits(double saw, int low, int high)
{
    double saw_c = ks_cone_place_c(saw);
    return saw_c >= ks_cone_least_c(low) && saw_c <= ks_cone_most_c(high);
}

/* "on level 2, at its edge, it would see cone 5.5+0.3": of all places that suit, the nearest to the
 * middle of what is asked. */
static const char *elsewhere(const judge *j, int low, int high)
{
    const ks_level_fired *best = NULL;
    bool in_middle = false;
    double nearest = INFINITY, aim = 0.5 * (ks_cone_place_c(low) + ks_cone_place_c(high));
    for (int l = 0; l < j->out->n_levels; l++)
        for (int middle = 0; middle < 2; middle++) {
            const ks_level_fired *level = &j->out->levels[l];
            double saw = saw_at(level, middle), off = fabs(ks_cone_place_c(saw) - aim);
            if (level->ware_kg > 0 && suits(saw, low, high) && off < nearest) {
                nearest = off;
                best = level;
                in_middle = middle;
            }
        }
    return best ? ks_arena_print(j->arena, "on level %s, %s, it would see cone %s", best->name,
                                 in_middle ? "in the middle" : "at the edge",
                                 ks_cone_print(saw_at(best, in_middle), j->arena))
                : "no other place of this load suits it";
}

static ks_piece_outside *same_place(const judge *j, int piece, int level, bool middle)
{
    for (int i = 0; i < j->out->n_outside; i++) {
        ks_piece_outside *entry = &j->out->outside[i];
        if (entry->piece == piece && entry->level == level && entry->middle == middle)
            return entry;
    }
    return NULL;
}

static void add_outside(judge *j, const ks_piece_outside *found)
{
    ks_firing_result *out = j->out;
    ks_piece_outside *known = same_place(j, found->piece, found->level, found->middle);
    if (known) {
        known->copies++;
        return;
    }
    out->outside = KS_GROW(j->arena, out->outside, out->n_outside, &j->room, ks_piece_outside);
    out->outside[out->n_outside] = *found;
    out->outside[out->n_outside++].elsewhere = elsewhere(j, found->asked_low, found->asked_high);
}

static void judge_one(judge *j, int piece, const char *id, int level, bool middle, int low,
                      int high)
{
    double saw = saw_at(&j->out->levels[level], middle), saw_c = ks_cone_place_c(saw);
    double under_k = ks_cone_least_c(low) - saw_c, over_k = saw_c - ks_cone_most_c(high);
    j->least_k = fmax(j->least_k, under_k);
    j->most_k = fmin(j->most_k, -over_k);
    if (under_k <= 0 && over_k <= 0)
        return;
    ks_piece_outside found = {.piece = piece,
                              .id = id,
                              .level = level,
                              .middle = middle,
                              .copies = 1,
                              .seen = under_k > 0 ? KS_UNDER : KS_OVER,
                              .asked_low = low,
                              .asked_high = high,
                              .saw = saw};
    j->out->seen = (ks_seen)(j->out->seen | found.seen);
    add_outside(j, &found);
}

static void judge_pieces(judge *j)
{
    const ks_plan *plan = j->asked->plan;
    const ks_load *load = &plan->loads[j->asked->options.load];
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].n_pieces; i++) {
            const ks_placed *placed = &load->levels[l].pieces[i];
            if (placed->piece < 0)
                continue;
            const ks_piece *piece = &plan->order->pieces[placed->piece];
            int low = place_or(piece->cone_low, j->asked->wanted_cone);
            int high = place_or(piece->cone_high, j->asked->wanted_cone);
            if (low >= 0 && high >= 0)
                judge_one(j, placed->piece, piece->id, l,
                          !ks_stands_at_edge(load, &load->levels[l], placed->stand),
                          low < high ? low : high, low < high ? high : low);
        }
}

static void judge_bulk(judge *j)
{
    for (int l = 0; l < j->out->n_levels && j->asked->wanted_cone >= 0; l++)
        for (int middle = 0; middle < 2 && j->out->levels[l].ware_kg > 0; middle++)
            judge_one(j, -1, "", l, middle, j->asked->wanted_cone, j->asked->wanted_cone);
}

/* A load known only in bulk has no bays: its levels are counted from below. */
static void name_levels(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out)
{
    const ks_load *load = asked->plan ? &asked->plan->loads[asked->options.load] : NULL;
    const char **names = load ? ks_level_names(load, arena) : NULL;
    for (int l = 0; l < out->n_levels; l++)
        out->levels[l].name =
            load && l < load->n_levels ? names[l] : ks_arena_print(arena, "%d", l + 1);
}

void ks_fire_case_judge(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                        double *least_k, double *most_k)
{
    judge j = {asked, arena, out, 0, -INFINITY, INFINITY};
    bool ended = out->reached;
    name_levels(asked, arena, out);
    out->seen = KS_IN_RANGE;
    out->n_outside = 0;
    if (asked->plan)
        judge_pieces(&j);
    else
        judge_bulk(&j);
    out->reached = ended && out->seen == KS_IN_RANGE;
    *least_k = j.least_k;
    *most_k = j.most_k;
}

enum { TRIES = 3 };
#define INSIDE_K 4.0 /* a change is told with so much to spare where there is room for it */

/* A shift of the end by heat work alone; the next try mends what the ware's lag makes of it. */
static double next_shift(double least_k, double most_k)
{
    double spare_k = fmin(INSIDE_K, 0.5 * (most_k - least_k));
    return least_k > 0 ? least_k + spare_k : most_k < 0 ? most_k - spare_k : 0;
}

ks_status ks_fire_case_aim(ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                           ks_error *err)
{
    ks_firing_result as_is = *out, tried = *out;
    ks_slant none = ks_slant_none();
    ks_status status = KS_OK;
    for (int i = 0; i <= TRIES && !status; i++) {
        double least_k, most_k;
        bool ended = tried.reached;
        ks_firing_result judged = tried;
        ks_fire_case_judge(asked, arena, &judged, &least_k, &most_k);
        if (ended && judged.seen == KS_IN_RANGE) {
            *out = tried;
            return KS_OK;
        }
        if (!ended || least_k > most_k || i == TRIES)
            break;
        asked->end_k += next_shift(least_k, most_k);
        status = ks_fire_case_run(asked, &none, true, arena, &tried, err);
    }
    *out = as_is;
    asked->end_k = 0;
    return status;
}

/* The nearest whole degree of the user's. */
static double whole_degree_c(const ks_display *display, double temp_c)
{
    double nought = ks_show_number(display, KS_TEMP, 0);
    double one = ks_show_number(display, KS_TEMP, 1) - nought;
    return (round(ks_show_number(display, KS_TEMP, temp_c)) - nought) / one;
}

/* The schedule as a controller is told to end it: at a temperature, whatever cone ended it. */
static ks_schedule ended_at(const ks_fire_case *asked, double top_c, ks_arena *arena)
{
    ks_schedule ends = asked->schedule;
    double hottest = ks_schedule_top_c(&asked->schedule);
    ends.segments = KS_TAKE(arena, ends.n_segments, ks_segment);
    for (int i = 0; i < ends.n_segments; i++) {
        ends.segments[i] = asked->schedule.segments[i];
        if (ends.segments[i].target_c != hottest)
            continue;
        ends.segments[i].target_c = top_c;
        ends.segments[i].hold_h *= asked->end_cone < 0;
    }
    ends.end_cone = "";
    return ends;
}

static const char *end_words(const ks_fire_case *asked, double top_c, ks_arena *arena)
{
    const char *end = ks_show_temp(asked->display, top_c, arena);
    if (asked->end_cone >= 0)
        return ks_arena_print(arena, "end at %s without a hold, in place of by cone %s", end,
                              ks_cone(asked->end_cone)->name);
    return ks_arena_print(arena, "end at %s in place of %s", end,
                          ks_show_temp(asked->display, ks_schedule_top_c(&asked->schedule), arena));
}

/* Where the heating of a firing that ended by its cone was over. */
static double end_c(const ks_firing_result *fired)
{
    for (int i = 0; i < fired->n_segments; i++)
        if (fired->segments[i].ended_by_cone)
            return fired->segments[i].to_c;
    return fired->top_c;
}

/* Whether all pieces are inside when it ends at top_c; if not, by how much they are out. */
static ks_status try_end(const ks_fire_case *asked, double top_c, double *least_k, double *most_k,
                         bool *cures, ks_error *err)
{
    ks_arena scratch = {0};
    ks_slant none = ks_slant_none();
    ks_firing_result tried;
    ks_fire_case other = *asked;
    other.schedule = ended_at(asked, top_c, &scratch);
    other.end_cone = -1;
    other.end_k = 0;
    ks_status status = ks_fire_case_run(&other, &none, true, &scratch, &tried, err);
    if (!status) {
        bool ended = tried.reached;
        ks_fire_case_judge(&other, &scratch, &tried, least_k, most_k);
        *cures = ended && tried.seen == KS_IN_RANGE;
    }
    ks_arena_finish(&scratch);
    return status;
}

/* The change is fired anew, just as it is told, before it is told. */
static ks_status find_change(const ks_fire_case *asked, double least_k, double most_k,
                             ks_arena *arena, ks_firing_result *out, ks_error *err)
{
    bool cures = false;
    double top_c = asked->end_cone >= 0 ? end_c(out) : ks_schedule_top_c(&asked->schedule);
    ks_status status = KS_OK;
    bool by_hand = asked->kiln.heat.control == KS_BY_SWITCHES; /* ends by cone as it is */
    for (int i = 0; i < TRIES && !status && least_k <= most_k && !cures && !by_hand; i++) {
        top_c = whole_degree_c(asked->display, top_c + next_shift(least_k, most_k));
        status = try_end(asked, top_c, &least_k, &most_k, &cures, err);
    }
    if (cures) {
        out->change = end_words(asked, top_c, arena);
        out->cure = KS_TAKE(arena, 1, ks_schedule);
        *out->cure = ended_at(asked, top_c, arena);
    }
    return status;
}

static const ks_segment_fired *last_left(const ks_firing_result *result)
{
    for (int i = result->n_segments - 1; i >= 0; i--)
        if (!result->segments[i].followed)
            return &result->segments[i];
    return NULL;
}

/* "cone 5.5+0.4 to 6+0.2", of all ware, or of what is outside on one side only. */
static const char *seen_words(const ks_firing_result *out, ks_seen of, ks_arena *arena)
{
    double low = INFINITY, high = -INFINITY;
    for (int l = 0; l < out->n_levels && of == KS_IN_RANGE; l++)
        if (out->levels[l].ware_kg > 0) {
            low = fmin(low, fmin(out->levels[l].cone_edge, out->levels[l].cone_middle));
            high = fmax(high, fmax(out->levels[l].cone_edge, out->levels[l].cone_middle));
        }
    for (int i = 0; i < out->n_outside; i++)
        if (out->outside[i].seen == of) {
            low = fmin(low, out->outside[i].saw);
            high = fmax(high, out->outside[i].saw);
        }
    const char *a = ks_cone_print(low, arena), *b = ks_cone_print(high, arena);
    return strcmp(a, b) == 0 ? ks_arena_print(arena, "cone %s", a)
                             : ks_arena_print(arena, "cone %s to %s", a, b);
}

static bool has_ware(const ks_firing_result *out)
{
    for (int l = 0; l < out->n_levels; l++)
        if (out->levels[l].ware_kg > 0)
            return true;
    return false;
}

static int copies_outside(const ks_firing_result *out, ks_seen seen)
{
    int sum = 0;
    for (int i = 0; i < out->n_outside; i++)
        sum += out->outside[i].seen == seen ? out->outside[i].copies : 0;
    return sum;
}

/* "12 pieces see too little (cone 4+0.2 to 5)". */
static const char *outside_words(const ks_fire_case *asked, const ks_firing_result *out,
                                 ks_seen seen, ks_arena *arena)
{
    int n = copies_outside(out, seen);
    return ks_arena_print(
        arena,
        asked->plan
            ? ks_tr_count(n, "%d piece sees too %s (%s)", "%d pieces see too %s (%s)")
            : ks_tr_count(n, "%d half level sees too %s (%s)", "%d half levels see too %s (%s)"),
        n, seen == KS_UNDER ? "little" : "much", seen_words(out, seen, arena));
}

static const char *goal_words(const ks_fire_case *asked, ks_arena *arena)
{
    return asked->wanted_cone >= 0
               ? ks_arena_print(arena, "cone %s", ks_cone(asked->wanted_cone)->name)
               : ks_show_temp(asked->display, ks_schedule_top_c(&asked->schedule), arena);
}

static const char *failed_words(const ks_fire_case *asked, const ks_firing_result *out, bool ended,
                                ks_arena *arena)
{
    const ks_segment_fired *left = last_left(out);
    const char *words = ks_arena_print(arena, "%s is %s", goal_words(asked, arena),
                                       out->seen == KS_OVER ? "passed" : "not reached");
    if (out->seen & KS_UNDER)
        words = ks_arena_print(arena, "%s: %s", words, outside_words(asked, out, KS_UNDER, arena));
    if (out->seen & KS_OVER)
        words = ks_arena_print(arena, "%s%s %s", words, out->seen & KS_UNDER ? "," : ":",
                               outside_words(asked, out, KS_OVER, arena));
    if (!ended)
        words = ks_arena_print(arena, "%s; the kiln %s", words,
                               left ? left->instead : "does not come to the schedule's end");
    return words;
}

static const char *sentence(const ks_fire_case *asked, const ks_firing_result *out, bool ended,
                            ks_arena *arena)
{
    const char *what = failed_words(asked, out, ended, arena);
    if (out->reached && asked->wanted_cone >= 0 && has_ware(out))
        what =
            ks_arena_print(arena,
                           out->n_strains > 0 ? "reaches cone %s, but too fast: the ware sees %s"
                                              : "reaches cone %s: the ware sees %s",
                           ks_cone(asked->wanted_cone)->name, seen_words(out, KS_IN_RANGE, arena));
    else if (out->reached)
        what = ks_arena_print(arena, "reaches %s", goal_words(asked, arena));
    if (out->n_doubts == 0)
        return ks_arena_print(arena, "%s; %s and %.0f kWh", what, ks_show_hours(out->hours, arena),
                              out->energy.total);
    return ks_arena_print(arena, "%s; %s and %.0f kWh (%.0f to %.0f)", what,
                          ks_show_hours(out->hours, arena), out->energy.total, out->low_kwh,
                          out->high_kwh);
}

ks_status ks_fire_case_verdict(const ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                               ks_error *err)
{
    bool ended = out->reached;
    double least_k, most_k;
    ks_status status = KS_OK;
    out->change = "";
    ks_fire_case_judge(asked, arena, out, &least_k, &most_k);
    if (ended && out->seen != KS_IN_RANGE)
        status = find_change(asked, least_k, most_k, arena, out, err);
    out->verdict = sentence(asked, out, ended, arena);
    return status;
}
