#include "app/costs/price_list.h"

#include "base/language.h"
#include "base/money_text.h"
#include "cost/sides.h"
#include "studio/display.h"
#include "studio/initials.h"

#include <math.h>
#include <string.h>

typedef struct {
    int copies;
    int64_t shop_minor, wholesale_minor; /* KS_NO_PRICE = none */
} kind_price;

static int64_t larger(int64_t a, int64_t b)
{
    return a > b ? a : b;
}

static kind_price *kinds_of(const ks_plan *plan, const ks_costing *costing, ks_arena *arena)
{
    kind_price *kinds = KS_TAKE(arena, plan->order->n_pieces, kind_price);
    for (int i = 0; i < plan->order->n_pieces; i++)
        kinds[i] = (kind_price){0, KS_NO_PRICE, KS_NO_PRICE};
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        kind_price *kind = &kinds[cost->piece];
        kind->copies++;
        kind->shop_minor = larger(kind->shop_minor, cost->shop_minor);
        kind->wholesale_minor = larger(kind->wholesale_minor, cost->wholesale_minor);
    }
    return kinds;
}

/* The order's own price holds the tax where its prices do, else it is added at the till. */
static int64_t own_minor(const ks_money_terms *terms, int64_t told_minor)
{
    return terms->tax_inside ? told_minor : told_minor + llround((double)told_minor * terms->tax);
}

/* No shop buys for as much as its customer pays before tax: such a price is not told. */
static int64_t sold_on(const ks_money_terms *terms, int64_t wholesale_minor, int64_t price_minor)
{
    bool sells = (double)wholesale_minor * (1 + terms->tax) < (double)price_minor;
    return sells ? wholesale_minor : KS_NO_PRICE;
}

static const char *words_of(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return minor < 0 ? NULL
                     : ks_arena_print(arena, "%s %s", ks_money_print(minor, costing->digits, arena),
                                      costing->currency);
}

/* A length without its unit, which the last of several tells. */
static const char *bare(const ks_order *order, double mm, ks_arena *arena)
{
    const char *words = ks_show_length(&order->display, mm, arena);
    const char *unit = strrchr(words, ' ');
    return unit ? ks_arena_print(arena, "%.*s", (int)(unit - words), words) : words;
}

/* Length, width and height as it goes into the firing, without what it is set on: a customer does
 * not know profiles. */
static const char *size_of(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    ks_part *own = KS_TAKE(arena, piece->n_parts, ks_part);
    int n = 0;
    for (int i = 0; i < piece->n_parts; i++)
        if (piece->parts[i].kind == KS_PART_BODY || piece->parts[i].kind == KS_PART_FOOT)
            own[n++] = piece->parts[i];
    ks_sides sides = ks_parts_sides(n, own);
    if (n == 0)
        return "";
    return ks_arena_print(arena, "%s × %s × %s", bare(order, sides.length_mm, arena),
                          bare(order, sides.width_mm, arena),
                          ks_show_length(&order->display, sides.height_mm, arena));
}

static const char *owner_of(const ks_order *order, const char *id, bool by_name, ks_arena *arena)
{
    const ks_member *member = ks_member_of(order, id);
    if (!by_name)
        return ks_owner_initials(order, id, arena);
    return member ? member->name : id;
}

const ks_price_list *ks_prices_listed(const ks_plan *plan, const ks_costing *costing, bool by_name,
                                      ks_arena *arena)
{
    const ks_order *order = plan->order;
    const kind_price *kinds = kinds_of(plan, costing, arena);
    ks_price_list *list = KS_TAKE(arena, 1, ks_price_list);
    ks_price_row *rows = KS_TAKE(arena, order->n_pieces, ks_price_row);
    *list = (ks_price_list){
        .studio = order->studio,
        .below = order->title,
        .rows = rows,
        .note = ks_tr("What a customer pays, sales tax in it: the order's own price where it tells "
                      "one, else the one proposed. A dash: none is proposed, since nobody told "
                      "the work on it, or since a customer pays no more than that.")};
    for (int i = 0; i < order->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[i];
        bool own = piece->price_minor > 0;
        int64_t price = own ? own_minor(order->money, piece->price_minor) : kinds[i].shop_minor;
        int64_t wholesale = sold_on(order->money, kinds[i].wholesale_minor, price);
        if (kinds[i].copies > 0)
            rows[list->n++] = (ks_price_row){piece->name,
                                             size_of(order, piece, arena),
                                             words_of(costing, price, arena),
                                             words_of(costing, wholesale, arena),
                                             owner_of(order, piece->owner, by_name, arena),
                                             kinds[i].copies};
    }
    return list;
}
