/* A member's account, in plain text of 72 columns, ready to be sent. */
#include "base/days/date.h"
#include "base/language.h"
#include "base/money_text.h"
#include "base/number.h"
#include "base/text.h"
#include "cost/fee.h"
#include "cost/fine.h"
#include "cost/share.h"
#include "cost/tariff.h"
#include "kilnstow/cost.h"

static const char *const rule_sentences[] = {
    [KS_SHARE_BOX] = "by each piece's own box: its outline seen from above times its height",
    [KS_SHARE_SLICES] = "by slices of height: whoever reaches into a slice pays for it",
    [KS_SHARE_SHELF] = "by shelf area times the clear height of the level",
    [KS_SHARE_MASS] = "by mass",
    [KS_SHARE_COUNT] = "by count of pieces",
    [KS_SHARE_SIDES] = "by the box around each piece: length times width times height",
    [KS_SHARE_RATE] = "by the studio's list",
};

static void write_head(ks_text *text, const ks_plan *plan, const ks_share *share)
{
    const ks_order *order = plan->order;
    if (*order->studio)
        ks_text_print(text, "%s\n", order->studio);
    if (*order->title)
        ks_text_print(text, "%s\n", order->title);
    ks_text_print(text, "Statement for %s\n", share->name);
}

static bool by_list(const ks_costing *costing)
{
    return costing->rule == KS_SHARE_RATE;
}

static void write_load_head(ks_text *text, const ks_plan *plan, const ks_costing *costing, int load)
{
    const ks_load *of = &plan->loads[load];
    ks_text_print(text, "\nLoad %d, %s", load + 1,
                  of->kiln >= 0 ? plan->order->kilns[of->kiln].name : of->kiln_id);
    if (of->day != KS_NO_DAY)
        ks_text_print(text, ", %s", ks_date_print(of->day, text->arena));
    if (*of->firing.cone)
        ks_text_print(text, ", cone %s", of->firing.cone);
    const char *each = ks_arena_print(text->arena, "%s each", ks_share_unit(costing->rule));
    ks_text_print(text, "\n  %5s  %-26s %11s %11s %11s\n", "count", "piece",
                  by_list(costing) ? ks_tr("fee each") : each, "together", "glaze each");
}

static bool alike(const ks_piece_cost *a, const ks_piece_cost *b)
{
    return a->load == b->load && a->piece == b->piece && a->firing == b->firing && a->fee == b->fee;
}

static const char *units_words(const ks_costing *costing, double units, ks_arena *arena)
{
    return ks_number_fixed(units, costing->rule == KS_SHARE_COUNT ? 2 : 4, arena);
}

/* Of `count` such pieces what they count, or their fee by the list. */
static const char *weighed_words(const ks_costing *costing, const ks_piece_cost *cost, int count,
                                 ks_arena *arena)
{
    return by_list(costing) ? ks_fine_print(count * cost->fee, costing->digits,
                                            cost->fee % KS_FINE ? 2 : 0, arena)
                            : units_words(costing, count * cost->units, arena);
}

/* A name in a column of 26 letters; what is longer is cut between letters. */
static const char *name_cell(const char *name, ks_arena *arena)
{
    enum { LETTERS = 26 };
    int n = 0;
    size_t bytes = 0;
    while (name[bytes] && (((unsigned char)name[bytes] & 0xC0) == 0x80 || n < LETTERS))
        n += ((unsigned char)name[bytes++] & 0xC0) != 0x80;
    return ks_arena_print(arena, "%s%*s", ks_arena_text_n(arena, name, bytes), LETTERS - n, "");
}

/* What all ware of one load comes to. */
static void write_together(ks_text *text, const ks_costing *costing, const ks_piece_cost **hers,
                           int n, int load)
{
    double units = 0;
    ks_fine fees = 0;
    for (int i = 0; i < n; i++) {
        units += hers[i]->load == load ? hers[i]->units : 0;
        fees += hers[i]->load == load ? hers[i]->fee : 0;
    }
    ks_text_print(text, "  %5s  %-26s %11s %11s %s\n", "", "together", "",
                  by_list(costing) ? ks_fine_print(fees, costing->digits, 0, text->arena)
                                   : units_words(costing, units, text->arena),
                  by_list(costing) ? costing->currency : ks_share_unit(costing->rule));
}

/* One line for each kind of piece of hers in the load. */
static void write_ware(ks_text *text, const ks_plan *plan, const ks_costing *costing,
                       const ks_piece_cost **hers, int n)
{
    for (int i = 0; i < n; i++) {
        int count = 0;
        for (int k = 0; k < n; k++)
            count += alike(hers[k], hers[i]) ? (k < i ? -n : 1) : 0;
        if (i == 0 || hers[i]->load != hers[i - 1]->load)
            write_load_head(text, plan, costing, hers[i]->load);
        if (count > 0)
            ks_text_print(text, "  %5d  %s %11s %11s %11s\n", count,
                          name_cell(plan->order->pieces[hers[i]->piece].name, text->arena),
                          weighed_words(costing, hers[i], 1, text->arena),
                          weighed_words(costing, hers[i], count, text->arena),
                          ks_fine_print(hers[i]->glaze, costing->digits, 3, text->arena));
        if (count > 0 && *hers[i]->fee_how)
            ks_text_print(text, "         %s\n", hers[i]->fee_how);
        if (i == n - 1 || hers[i + 1]->load != hers[i]->load)
            write_together(text, costing, hers, n, hers[i]->load);
    }
}

static void write_sums(ks_text *text, const ks_costing *costing, const ks_share *share)
{
    ks_text_add(text, "\n");
    for (int i = 0; i < share->lines.n; i++) {
        const ks_cost_line *line = &share->lines.lines[i];
        ks_text_print(text, "  %12s %s  %s%s%s\n",
                      ks_money_print(ks_fine_minor(line->amount), costing->digits, text->arena),
                      costing->currency, line->what, *line->how ? ", " : "", line->how);
    }
    ks_text_print(text, "  %12s %s  %s\n",
                  ks_money_print(share->minor, costing->digits, text->arena), costing->currency,
                  !*share->member    ? "on the studio's own account"
                  : share->minor > 0 ? "to pay"
                  : share->minor < 0 ? "to be paid back"
                                     : "nothing to pay");
}

static const char *unit_name(ks_share_rule rule)
{
    return rule == KS_SHARE_MASS    ? ks_tr("kilograms")
           : rule == KS_SHARE_COUNT ? ks_tr("pieces")
                                    : ks_tr("litres");
}

static void write_rates(ks_text *text, const ks_order *order)
{
    int n;
    const ks_rate *rates = ks_studio_rates(order->money, text->arena, &n);
    ks_text_add(text, ks_tr("The studio's list:\n"));
    for (int i = 0; i < n; i++)
        ks_text_print(text, "  %s\n", ks_rate_words(order, &rates[i], text->arena));
}

static void write_terms(ks_text *text, const ks_plan *plan, const ks_costing *costing, int share)
{
    const ks_money_terms *terms = plan->order->money;
    ks_text_print(text,
                  by_list(costing) ? ks_tr("\nThe firing is charged %s.\n")
                                   : ks_tr("\nThe firing is shared %s.\n"),
                  rule_sentences[costing->rule]);
    if (!by_list(costing))
        ks_text_print(text,
                      "Empty space is paid by %s; the room that witness cones take is "
                      "paid by %s,\nand their price stands in the bill like all else.\n",
                      terms->empty_space == KS_PAID_STUDIO ? "the studio" : "all, with their ware",
                      terms->cones == KS_PAID_STUDIO ? "the studio" : "all, with their ware");
    if (ks_loads_together(plan->order, costing->rule))
        ks_text_add(text, "All loads are shared as one.\n");
    if (!by_list(costing) && ks_guest_factor(plan->order, share) != 1)
        ks_text_print(text, "Guests' ware counts %g times.\n", terms->guest_factor);
    if (by_list(costing)) {
        write_rates(text, plan->order);
        ks_text_add(text,
                    ks_tr("Glaze: what all have used, in whole cents; the odd cents go to the "
                          "largest remainders.\n"));
    } else
        ks_text_print(text,
                      "Of each sum: the bill x your %s / the %s of all who pay, then to "
                      "whole cents;\nthe odd cents go to the largest remainders, so that "
                      "all sums are the bill.\n",
                      unit_name(costing->rule), unit_name(costing->rule));
    if (!by_list(costing) && costing->rule != KS_SHARE_COUNT)
        ks_text_add(text, ks_tr("What each piece counts is told rounded; what stands together is "
                                "the sum of the exact.\n"));
}

const char *ks_statement(const ks_plan *plan, const ks_costing *costing, int share, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    const ks_share *of = &costing->shares[share];
    const ks_piece_cost **hers = KS_TAKE(arena, costing->n_pieces, const ks_piece_cost *);
    int n = 0;
    for (int i = 0; i < costing->n_pieces; i++)
        if (costing->pieces[i].payer == share)
            hers[n++] = &costing->pieces[i];
    write_head(&text, plan, of);
    write_ware(&text, plan, costing, hers, n);
    write_sums(&text, costing, of);
    write_terms(&text, plan, costing, share);
    return ks_text_end(&text);
}
