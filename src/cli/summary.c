#include "cli/summary.h"

#include "base/days/date.h"
#include "base/money_text.h"
#include "base/text.h"
#include "base/units.h"
#include "studio/level_name.h"
#include "studio/late_ware.h"
#include "studio/left_out.h"
#include "studio/owner_count.h"
#include "studio/reading/reading.h"

#include <math.h>
#include <string.h>

const char *ks_summary_of_worth(const ks_plan *plan, double worth, ks_arena *arena)
{
    if (plan->objective == KS_BY_COUNT)
        return ks_arena_print(arena, "%.0f pieces", worth);
    if (plan->objective == KS_BY_VOLUME)
        return ks_arena_print(arena, "%.1f litres", worth);
    const char *currency = plan->order->currency;
    int digits = ks_currency_digits(currency);
    return ks_arena_print(arena, "%s %s",
                          ks_money_print((int64_t)floor(worth), digits < 0 ? 2 : digits, arena),
                          currency);
}

/* "14 "small cup" and 2 "tile""; "" where nothing is to fill. */
static const char *filled_words(const ks_plan *plan, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    for (int i = 0; i < plan->order->n_pieces; i++) {
        const ks_piece *piece = &plan->order->pieces[i];
        if (piece->fill && !piece->locked_out)
            ks_text_print(&words, "%s%d \"%s\"", words.length > 0 ? ks_tr(" and ") : "",
                          ks_plan_filled_of(plan, i), piece->name);
    }
    return words.length > 0 ? ks_text_end(&words) : "";
}

static const char *loads_words(const ks_plan *plan, ks_arena *arena)
{
    return ks_arena_print(arena, ks_tr_count(plan->n_loads, "in %d load", "in %d loads"),
                          plan->n_loads);
}

/* How many of the counted pieces go in, and what fills; false where nothing is counted. */
static bool tell_placed(const ks_plan *plan, FILE *to, ks_arena *arena)
{
    int placed = ks_plan_placed(plan), wanted = placed + ks_plan_waiting(plan);
    const char *filled = filled_words(plan, arena), *loads = loads_words(plan, arena);
    if (wanted == 0 && *filled) {
        fprintf(to, "As many as were found to fit: %s %s.\n", filled, loads);
        return false;
    }
    const char *worth = ks_summary_of_worth(plan, plan->worth, arena);
    if (*filled)
        fprintf(to, "%d of %d counted pieces placed %s, worth %s, and %s that fit besides.\n",
                placed, wanted, loads, worth, filled);
    else
        fprintf(to, "%d of %d pieces placed %s, worth %s.\n", placed, wanted, loads, worth);
    return true;
}

void ks_summary_worth(const ks_plan *plan, FILE *to)
{
    ks_arena arena = {0};
    double gap = ks_plan_gap(plan);
    int least = plan->loads_at_least;
    bool counts = tell_placed(plan, to, &arena);
    if (counts && gap <= 1e-9)
        fputs(ks_plan_filled(plan) > 0
                  ? ks_tr("No plan can place more of what is counted: proven.\n")
                  : ks_tr("No plan can place more: proven.\n"),
              to);
    else if (counts && isfinite(gap))
        fprintf(to, "At most %.1f %% more could fit (no plan exceeds %s: %s).\n",
                ceil(1000 * gap) / 10, ks_summary_of_worth(plan, plan->bound, &arena),
                ks_tr(plan->bound_kind));
    if (least > 1)
        fprintf(to, "No fewer than %d loads can take all that is wanted: proven.\n", least);
    ks_arena_finish(&arena);
}

void ks_summary_kept(const ks_plan *plan, double free_worth, FILE *to)
{
    ks_arena arena = {0};
    double costs = free_worth - plan->worth;
    if (costs > 1e-3 * free_worth)
        fprintf(to,
                "\nShelves stand as they stood: that costs %s (%.1f %%) of what was found with "
                "shelves moved.\n",
                ks_summary_of_worth(plan, costs, &arena), 100 * costs / free_worth);
    else if (isfinite(free_worth))
        fprintf(to,
                "\nShelves stand as they stood: nothing better was found with shelves moved.\n");
    ks_arena_finish(&arena);
}

enum { KINDS_NAMED = 4 };

/* "3 x bottle, 2 x platter and 12 more pieces". */
static const char *waiting_words(const ks_plan *plan, ks_arena *arena)
{
    ks_text words = {.arena = arena};
    int others = 0;
    for (int i = 0; i < plan->n_left_out; i++)
        if (i < KINDS_NAMED)
            ks_text_print(&words, "%s%d x %s", i > 0 ? ", " : "", plan->left_out[i].count,
                          plan->left_out[i].id);
        else
            others += plan->left_out[i].count;
    if (others > 0)
        ks_text_print(&words, ks_tr_count(others, " and %d more piece", " and %d more pieces"),
                      others);
    return ks_text_end(&words);
}

static const char *saved_words(const ks_load_saved *saved, ks_arena *arena)
{
    const char *currency = saved->plan->order->currency;
    int digits = ks_currency_digits(currency);
    if (!saved->costed)
        return ks_arena_print(arena, "about %.0f kWh and %.0f h of firing", saved->kwh,
                              saved->hours);
    return ks_arena_print(arena, "about %.0f kWh, %s %s and %.0f h of firing", saved->kwh,
                          ks_money_print(saved->bill_minor, digits < 0 ? 2 : digits, arena),
                          currency, saved->hours);
}

void ks_summary_fewer(const ks_load_saved *saved, FILE *to)
{
    ks_arena arena = {0};
    const ks_plan *plan = saved->plan;
    fprintf(to, "One load fewer (--loads %d) would save %s; ", plan->n_loads,
            saved_words(saved, &arena));
    if (plan->n_left_out > 0)
        fprintf(to, "would wait: %s.\n", waiting_words(plan, &arena));
    else
        fputs(ks_tr("nothing would wait.\n"), to);
    ks_arena_finish(&arena);
}

void ks_summary_owners(const ks_plan *plan, FILE *to)
{
    ks_arena arena = {0};
    ks_owner_count *counts;
    int n = plan->order->rules.fair ? ks_owner_counts(plan, &arena, &counts) : 0;
    if (n > 0)
        fputs(ks_tr("Pieces of each owner that go in: "), to);
    for (int i = 0; i < n; i++)
        fprintf(to, ks_tr("%s %d of %d%s"), counts[i].owner, counts[i].placed, counts[i].wanted,
                i + 1 < n ? ", " : ".\n");
    ks_arena_finish(&arena);
}

static int pieces_of(const ks_level *level, ks_role role, bool same)
{
    int n = 0;
    for (int i = 0; i < level->n_pieces; i++)
        n += (level->pieces[i].role == role) == same;
    return n;
}

static const char *length(const ks_order *order, double mm, ks_arena *arena)
{
    return ks_quantity_print(KS_LENGTH, mm, order->display.length, arena);
}

/* How a post is made up: "127 mm" or "127 + 25 mm". */
static const char *post_words(const ks_order *order, const ks_post *post, ks_arena *arena)
{
    const char *first = length(order, post->heights_mm[0], arena);
    if (post->n_heights < 2)
        return first;
    return ks_arena_print(arena, "%s + %s", first, length(order, post->heights_mm[1], arena));
}

static bool same_post(const ks_post *a, const ks_post *b)
{
    return fabs(a->from_mm - b->from_mm) < KS_GRID && a->n_heights == b->n_heights &&
           memcmp(a->heights_mm, b->heights_mm, (size_t)a->n_heights * sizeof(double)) == 0;
}

/* Posts that start at one height and are made alike are told once, with their number. */
static void tell_posts(const ks_plan *plan, const ks_load *load, FILE *to, ks_arena *arena)
{
    for (int i = 0; i < load->n_posts; i++) {
        int n = 0;
        bool first = true;
        for (int j = 0; j < load->n_posts; j++) {
            bool same = same_post(&load->posts[i], &load->posts[j]);
            first = first && !(same && j < i);
            n += same;
        }
        if (first)
            fprintf(to, "  %2d posts of %s from %s up\n", n,
                    post_words(plan->order, &load->posts[i], arena),
                    length(plan->order, load->posts[i].from_mm, arena));
    }
}

static void tell_load(const ks_plan *plan, int number, FILE *to, ks_arena *arena)
{
    const ks_load *load = &plan->loads[number];
    fprintf(to, "\nLoad %d: %s", number + 1,
            load->kiln >= 0 ? plan->order->kilns[load->kiln].name : load->kiln_id);
    if (load->day != KS_NO_DAY)
        fprintf(to, " on %s", ks_date_print(load->day, arena));
    fprintf(to, ", %s", load->firing.id);
    if (*load->firing.cone)
        fprintf(to, ", cone %s", load->firing.cone);
    if (*load->firing.atmosphere)
        fprintf(to, ", %s", ks_tr(load->firing.atmosphere));
    fputs("\n", to);
    const char **names = ks_level_names(load, arena);
    fprintf(to, "  %-18s%12s%14s%9s%7s\n", ks_tr("level"), ks_tr("shelf at"), ks_tr("clear above"),
            ks_tr("pieces"), ks_tr("cones"));
    for (int v = 0; v < load->n_levels; v++) {
        const ks_level *level = &load->levels[v];
        fprintf(to, "  %-18s%12s%14s%9d%7d\n", names[v], length(plan->order, level->z_mm, arena),
                length(plan->order, level->gap_mm, arena), pieces_of(level, KS_CONES, false),
                pieces_of(level, KS_CONES, true));
    }
    tell_posts(plan, load, to, arena);
}

void ks_summary_loads(const ks_plan *plan, FILE *to)
{
    ks_arena arena = {0};
    for (int l = 0; l < plan->n_loads; l++)
        tell_load(plan, l, to, &arena);
    ks_arena_finish(&arena);
}

void ks_summary_late(const ks_plan *plan, FILE *to)
{
    ks_arena arena = {0};
    ks_late_ware *late;
    int n = ks_late_ware_find(plan, &arena, &late);
    if (n > 0)
        fprintf(to, "\nLate:\n");
    for (int i = 0; i < n; i++)
        fprintf(to, "  load %d: %s\n", late[i].load + 1,
                ks_late_ware_words(plan, &late[i], &arena));
    ks_arena_finish(&arena);
}

void ks_summary_waits(const ks_plan *plan, FILE *to)
{
    if (plan->n_left_out == 0)
        return;
    ks_arena arena = {0};
    fprintf(to, "\nWaiting:\n");
    for (int i = 0; i < plan->n_left_out; i++) {
        const ks_left_out *left = &plan->left_out[i];
        fprintf(to, "  %d x %s: %s\n", left->count, left->id,
                ks_left_out_why(left, &plan->order->display, &arena));
        const char *change = ks_left_out_nearest(left, &plan->order->display, &arena);
        if (*change)
            fprintf(to, "      to let it in: %s\n", change);
    }
    ks_arena_finish(&arena);
}

/* Adds the words of "mass, wall" that are not yet among them. */
static void join_words(const char **all, const char *list, ks_arena *arena)
{
    for (size_t length; *list; list += length + strspn(list + length, ", ")) {
        length = strcspn(list, ",");
        ks_default_note(all, ks_arena_text_n(arena, list, length), arena);
    }
}

void ks_summary_assume(const ks_order *order, const char *order_path, FILE *to)
{
    ks_arena arena = {0};
    const char *all = "";
    int n = 0;
    for (int i = 0; i < order->n_pieces; i++) {
        n += *order->pieces[i].defaults != '\0';
        join_words(&all, order->pieces[i].defaults, &arena);
    }
    if (n > 0)
        fprintf(to,
                "\nAssumed, of %d of %d kinds of ware: %s.\n"
                "What was understood of each: kilnstow list ware %s\n",
                n, order->n_pieces, ks_default_words(all, &arena), order_path);
    ks_arena_finish(&arena);
}

void ks_summary_warnings(const ks_order *order, FILE *to)
{
    for (int i = 0; i < order->n_warnings; i++)
        fprintf(to, "worth a look: %s\n", order->warnings[i]);
}
