/* What members were charged and have paid, and what of theirs waits. */
#include "kilnstow/learn.h"

#include "base/text.h"

#include <stdlib.h>
#include <string.h>

/* A charge or a payment, and whose. */
typedef struct {
    const char *member, *name, *currency;
    int digits;
    ks_account_line line;
} posting;

typedef struct {
    ks_arena *arena;
    int n, room;
    posting *all;
} postings;

static void post(postings *to, posting what)
{
    to->all = KS_GROW(to->arena, to->all, to->n, &to->room, posting);
    to->all[to->n++] = what;
}

static void post_firing(postings *to, const ks_book_firing *firing)
{
    const char *what =
        *firing->title ? ks_joined(firing->title, ", ", firing->kiln, to->arena) : firing->kiln;
    for (int i = 0; i < firing->n_charges; i++) {
        const ks_charge *charge = &firing->charges[i];
        post(to, (posting){charge->member,
                           charge->name,
                           firing->currency,
                           firing->digits,
                           {firing->started, firing->mark.n, false, what, charge->pieces,
                            charge->minor, 0}});
    }
}

static ks_status post_all(ks_book *book, postings *to, ks_error *err)
{
    int n_firings = 0, n_payments = 0;
    ks_book_firing *firings;
    ks_book_payment *payments = NULL;
    ks_status status =
        ks_book_firings(book, &(ks_book_asked){0}, to->arena, &n_firings, &firings, err);
    if (!status)
        status =
            ks_book_payments(book, &(ks_book_asked){0}, to->arena, &n_payments, &payments, err);
    for (int i = 0; i < n_firings && !status; i++)
        post_firing(to, &firings[i]);
    for (int i = 0; i < n_payments && !status; i++) {
        const ks_book_payment *p = &payments[i];
        post(to, (posting){p->member,
                           p->member,
                           p->currency,
                           p->digits,
                           {p->day, p->mark.n, true, p->note, 0, -p->minor, 0}});
    }
    return status;
}

/* A payment may name its member as the statement does: by name. */
static void find_ids(postings *all)
{
    for (int i = 0; i < all->n; i++) {
        posting *p = &all->all[i];
        for (int j = 0; j < all->n && p->line.payment; j++) {
            const posting *charge = &all->all[j];
            if (!charge->line.payment &&
                (strcmp(charge->member, p->member) == 0 || strcmp(charge->name, p->member) == 0)) {
                p->member = charge->member;
                p->name = charge->name;
                break;
            }
        }
    }
}

static int by_account(const void *a, const void *b)
{
    const posting *x = a, *y = b;
    int order = strcmp(x->member, y->member);
    if (order == 0)
        order = strcmp(x->currency, y->currency);
    if (order == 0)
        order = strcmp(x->line.day, y->line.day);
    if (order == 0)
        order = x->line.payment - y->line.payment;
    return order != 0 ? order : x->line.entry - y->line.entry;
}

static bool is_asked(const posting *p, const char *member)
{
    return !member || strcmp(p->member, member) == 0 || strcmp(p->name, member) == 0;
}

static void enter(ks_account *account, const posting *p, const char *from, const char *to)
{
    if (to && strncmp(p->line.day, to, strlen(to)) > 0)
        return;
    account->owed += p->line.minor;
    if (from && strcmp(p->line.day, from) < 0) {
        account->before = account->owed;
        return;
    }
    account->lines[account->n] = p->line;
    account->lines[account->n++].balance = account->owed;
}

static bool is_new_account(const postings *all, int i)
{
    return i == 0 || strcmp(all->all[i].member, all->all[i - 1].member) != 0 ||
           strcmp(all->all[i].currency, all->all[i - 1].currency) != 0;
}

ks_status ks_book_accounts(ks_book *book, const char *member, const char *from, const char *to,
                           ks_arena *arena, int *n, ks_account **out, ks_error *err)
{
    postings all = {.arena = arena};
    *n = 0;
    ks_status status = post_all(book, &all, err);
    if (status)
        return status;
    find_ids(&all);
    if (all.n > 0)
        qsort(all.all, (size_t)all.n, sizeof *all.all, by_account);
    *out = KS_TAKE(arena, all.n, ks_account);
    for (int i = 0; i < all.n; i++) {
        const posting *p = &all.all[i];
        if (!is_asked(p, member))
            continue;
        if (*n == 0 || is_new_account(&all, i))
            (*out)[(*n)++] = (ks_account){.member = p->member,
                                          .name = p->name,
                                          .currency = p->currency,
                                          .digits = p->digits,
                                          .lines = KS_TAKE(arena, all.n, ks_account_line)};
        enter(&(*out)[*n - 1], p, from, to);
    }
    if (*n == 0 && member)
        return ks_fail(err, KS_BAD_USAGE,
                       "found \"%s\"; the record has charged and been paid by no such member",
                       member);
    return KS_OK;
}

/* The plans that were fired in a kiln, the last first, each once. */
static int plans_back(const ks_book_firing *firings, int n, const ks_book_firing **out)
{
    int n_out = 0;
    for (int i = n - 1; i >= 0; i--) {
        bool known = false;
        for (int j = 0; j < n_out && !known; j++)
            known = strcmp(out[j]->plan, firings[i].plan) == 0;
        if (!known)
            out[n_out++] = &firings[i];
    }
    return n_out;
}

static bool waited_in(const ks_book_firing *firing, const ks_waited *ware)
{
    for (int i = 0; i < firing->n_waited; i++)
        if (strcmp(firing->waited[i].piece, ware->piece) == 0 &&
            strcmp(firing->waited[i].member, ware->member) == 0)
            return true;
    return false;
}

ks_status ks_book_waiting(ks_book *book, ks_arena *arena, int *n, ks_waiting_ware **out,
                          ks_error *err)
{
    int n_firings;
    ks_book_firing *firings;
    *n = 0;
    ks_status status = ks_book_firings(book, &(ks_book_asked){0}, arena, &n_firings, &firings, err);
    if (status || n_firings == 0)
        return status;
    const ks_book_firing **plans = KS_TAKE(arena, n_firings, const ks_book_firing *);
    int n_plans = plans_back(firings, n_firings, plans);
    *out = KS_TAKE(arena, plans[0]->n_waited, ks_waiting_ware);
    for (int i = 0; i < plans[0]->n_waited; i++) {
        const ks_waited *ware = &plans[0]->waited[i];
        ks_waiting_ware *row = &(*out)[(*n)++];
        *row = (ks_waiting_ware){ware->member, ware->piece, ware->name,       ware->why,
                                 ware->copies, 0,           plans[0]->started};
        while (row->times < n_plans && waited_in(plans[row->times], ware))
            row->since = plans[row->times++]->started;
    }
    return KS_OK;
}
