#include "app/record/pots.h"

#include "app/record/log_run.h"
#include "base/days/date.h"
#include "base/money_text.h"
#include "base/text.h"
#include "base/words.h"

#include <stdlib.h>
#include <string.h>

#define FATES "sold|commission|second|back|lost"

/* What entries tell of kinds, in any order; merged at the end, since there may be many. */
typedef struct {
    ks_arena *arena;
    int n, room;
    ks_pot_life *all;
} pots;

static ks_pot_life *add_of(pots *to, const char *piece, const char *owner)
{
    to->all = KS_GROW(to->arena, to->all, to->n, &to->room, ks_pot_life);
    to->all[to->n] = (ks_pot_life){.piece = piece, .owner = owner};
    return &to->all[to->n++];
}

/* Losses name the piece alone; its owner stands in the same entry's ware. */
static const char *owner_in(const ks_book_firing *firing, const char *piece)
{
    for (int i = 0; i < firing->n_ware; i++)
        if (strcmp(firing->ware[i].piece, piece) == 0)
            return firing->ware[i].owner;
    return "";
}

static void add_firing(pots *to, const ks_book_firing *firing)
{
    for (int i = 0; i < firing->n_ware; i++)
        add_of(to, firing->ware[i].piece, firing->ware[i].owner)->fired = firing->ware[i].copies;
    for (int i = 0; i < firing->n_losses; i++) {
        const ks_loss *loss = &firing->losses[i];
        add_of(to, loss->piece, owner_in(firing, loss->piece))->lost = loss->copies;
    }
    for (int i = 0; i < firing->n_again; i++) {
        const ks_loss *again = &firing->again[i];
        add_of(to, again->piece, owner_in(firing, again->piece))->again = again->copies;
    }
}

static int by_piece(const void *a, const void *b)
{
    const ks_pot_life *x = a, *y = b;
    int order = strcmp(x->piece, y->piece);
    return order != 0 ? order : strcmp(x->owner, y->owner);
}

/* One of each kind and owner. */
static void merge(pots *of)
{
    int n = 0;
    if (of->n > 1)
        qsort(of->all, (size_t)of->n, sizeof *of->all, by_piece);
    for (int i = 0; i < of->n; i++) {
        if (n == 0 || by_piece(&of->all[n - 1], &of->all[i]) != 0) {
            of->all[n++] = of->all[i];
            continue;
        }
        of->all[n - 1].fired += of->all[i].fired;
        of->all[n - 1].lost += of->all[i].lost;
        of->all[n - 1].again += of->all[i].again;
    }
    of->n = n;
}

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* What is sold or comes back leaves the shops first. */
static void add_fate(const pots *to, const ks_book_fate *fate)
{
    const ks_pot_life wanted = {.piece = fate->piece, .owner = fate->member};
    ks_pot_life *pot = bsearch(&wanted, to->all, (size_t)to->n, sizeof *to->all, by_piece);
    if (strcmp(fate->became, "commission") == 0)
        pot->commission += fate->copies;
    else if (strcmp(fate->became, "second") == 0)
        pot->seconds += fate->copies;
    else
        pot->commission -= least(pot->commission, fate->copies);
    if (strcmp(fate->became, "sold") == 0)
        pot->sold += fate->copies;
    if (strcmp(fate->became, "lost") == 0)
        pot->lost += fate->copies;
}

static ks_status read_pots(ks_book *book, ks_arena *arena, pots *out, ks_error *err)
{
    int n_firings, n_fates = 0;
    ks_book_firing *firings;
    ks_book_fate *fates = NULL;
    *out = (pots){.arena = arena};
    ks_book_asked asked = {.lists = KS_LIST_WARE | KS_LIST_LOSSES | KS_LIST_AGAIN};
    ks_status status = ks_book_firings(book, &asked, arena, &n_firings, &firings, err);
    if (!status)
        status = ks_book_fates(book, &(ks_book_asked){0}, arena, &n_fates, &fates, err);
    for (int i = 0; i < n_firings && !status; i++)
        add_firing(out, &firings[i]);
    for (int i = 0; i < n_fates && !status; i++)
        (void)add_of(out, fates[i].piece, fates[i].member); /* also what no firing tells of */
    merge(out);
    for (int i = 0; i < n_fates && !status; i++)
        add_fate(out, &fates[i]);
    return status;
}

ks_status ks_pots_look(const char *book_path, const char *member, ks_arena *arena, int *n,
                       ks_pot_life **out, ks_error *err)
{
    ks_book *book = NULL;
    pots all = {0};
    *n = 0;
    *out = NULL;
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, err);
    if (!status)
        status = read_pots(book, arena, &all, err);
    ks_book_close(book);
    for (int i = 0; i < all.n && !status; i++)
        if (!member || strcmp(all.all[i].owner, member) == 0)
            all.all[(*n)++] = all.all[i];
    *out = all.all;
    return status;
}

/* The record knows the kind, and by the kind its owner. */
static ks_status find_owner(ks_book *book, ks_book_fate *fate, ks_arena *arena, ks_error *err)
{
    pots all;
    ks_text ids = {.arena = arena};
    ks_status status = read_pots(book, arena, &all, err);
    for (int i = 0; i < all.n && !status; i++) {
        ks_text_add(&ids, ks_joined(i > 0 ? "|" : "", all.all[i].piece, "", arena));
        bool same = strcmp(all.all[i].piece, fate->piece) == 0 &&
                    (!fate->member || strcmp(all.all[i].owner, fate->member) == 0);
        if (same) {
            fate->member = all.all[i].owner;
            return KS_OK;
        }
    }
    const char *nearest = status ? NULL : ks_word_nearest(fate->piece, ks_text_end(&ids), arena);
    return status ? status
                  : ks_fail(err, KS_BAD_USAGE,
                            "log became: found \"%s\"; the record has fired no such ware of that "
                            "owner%s%s",
                            fate->piece, nearest ? ", nearest is " : "", nearest ? nearest : "");
}

static ks_status read_price(ks_book *book, const char *price, ks_book_fate *fate, ks_arena *arena,
                            ks_error *err)
{
    fate->currency = "";
    if (!price)
        return KS_OK;
    ks_status status = ks_log_currency(book, arena, &fate->currency, &fate->digits, err);
    const char *wrong = status ? NULL : ks_money_parse(price, fate->digits, &fate->minor);
    return wrong ? ks_fail(err, KS_BAD_USAGE, "--price: found \"%s\": %s", price, wrong) : status;
}

static ks_status check_words(const ks_book_fate *fate, ks_arena *arena, ks_error *err)
{
    int day;
    if (!ks_word_among(fate->became, FATES))
        return ks_fail(err, KS_BAD_USAGE, "log became: found \"%s\"; it takes %s", fate->became,
                       ks_words_print(FATES, arena));
    if (ks_date_parse(fate->day, &day))
        return ks_fail(err, KS_BAD_USAGE, "--day: found \"%s\"; it takes a day like 2026-11-28",
                       fate->day);
    return KS_OK;
}

ks_status ks_fate_write(const char *book_path, const char *price, ks_book_fate *fate,
                        ks_arena *arena, ks_error *err)
{
    ks_book *book = NULL;
    const char *now = ks_log_now(arena);
    fate->mark.written = now;
    fate->day = fate->day ? fate->day : ks_arena_text_n(arena, now, 10);
    fate->note = fate->note ? fate->note : "";
    fate->struck = "";
    ks_status status = check_words(fate, arena, err);
    if (!status)
        status = ks_book_open(ks_book_path(book_path), KS_BOOK_EDIT, &book, err);
    if (!status)
        status = find_owner(book, fate, arena, err);
    if (!status)
        status = read_price(book, price, fate, arena, err);
    if (!status)
        status = ks_book_write_fate(book, fate, err);
    ks_book_close(book);
    return status;
}
