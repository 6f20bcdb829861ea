/* What members were charged and have paid, and what of theirs waits. */
#include "kilnstow/learn.h"

#include "base/text.h"
#include "book/book_file.h"

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

/* What is told once of a firing and stands in each of its lines. */
typedef struct {
    int n;
    const char *started, *what, *currency;
} told_firing;

static told_firing firing_told(sqlite3_stmt *row, ks_arena *arena)
{
    const char *title = ks_book_text(row, 6, arena), *kiln = ks_book_text(row, 7, arena);
    return (told_firing){sqlite3_column_int(row, 5), ks_book_text(row, 4, arena),
                         *title ? ks_joined(title, ", ", kiln, arena) : kiln,
                         ks_book_text(row, 8, arena)};
}

/* Charges alone, by one statement: a record of ten thousand firings has far more that is not asked
 * for. Of all members, or of one by id or name. */
static ks_status post_charges(ks_book *book, const char *member, postings *to, ks_error *err)
{
    sqlite3_stmt *row = NULL;
    bool more = false;
    told_firing of = {0};
    ks_status status = ks_book_prepare(
        book,
        "SELECT c.member, c.name, c.pieces, c.minor, f.started, f.n, f.title, f.kiln, f.currency,"
        " f.digits FROM firing AS f JOIN charge AS c ON c.n = f.n AND c.edition = f.edition"
        " WHERE f.struck = '' AND f.edition = (SELECT max(edition) FROM firing WHERE n = f.n)"
        " AND (?1 IS NULL OR c.member = ?1 OR c.name = ?1) ORDER BY f.started, f.n, c.place",
        &row, err);
    if (!status && member)
        sqlite3_bind_text(row, 1, member, -1, SQLITE_STATIC);
    while (!status && !(status = ks_book_step(book, row, &more, err)) && more) {
        if (of.n != sqlite3_column_int(row, 5))
            of = firing_told(row, to->arena);
        post(to, (posting){ks_book_text(row, 0, to->arena),
                           ks_book_text(row, 1, to->arena),
                           of.currency,
                           sqlite3_column_int(row, 9),
                           {of.started, of.n, false, of.what, sqlite3_column_int(row, 2),
                            sqlite3_column_int64(row, 3), 0}});
    }
    sqlite3_finalize(row);
    return status;
}

static ks_status post_all(ks_book *book, const char *member, postings *to, ks_error *err)
{
    int n_payments = 0;
    ks_book_payment *payments = NULL;
    ks_status status = post_charges(book, member, to, err);
    if (!status)
        status =
            ks_book_payments(book, &(ks_book_asked){0}, to->arena, &n_payments, &payments, err);
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

/* Members that were charged, each once. */
typedef struct {
    int n, room;
    const posting **first;
} charged;

static const posting *charged_to(const charged *members, const char *member)
{
    for (int i = 0; i < members->n; i++)
        if (strcmp(members->first[i]->member, member) == 0)
            return members->first[i];
    for (int i = 0; i < members->n; i++)
        if (strcmp(members->first[i]->name, member) == 0)
            return members->first[i];
    return NULL;
}

/* A payment may name its member as the statement does: by name. */
static void find_ids(postings *all)
{
    charged members = {0};
    for (int i = 0; i < all->n; i++) {
        posting *p = &all->all[i];
        const posting *known = charged_to(&members, p->member);
        if (p->line.payment && known) {
            p->member = known->member;
            p->name = known->name;
        } else if (!p->line.payment && (!known || strcmp(known->member, p->member) != 0)) {
            members.first =
                KS_GROW(all->arena, members.first, members.n, &members.room, const posting *);
            members.first[members.n++] = p;
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

static void open_account(const postings *all, int i, ks_account *out)
{
    const posting *p = &all->all[i];
    int n = 1;
    while (i + n < all->n && !is_new_account(all, i + n))
        n++;
    *out = (ks_account){.member = p->member,
                        .name = p->name,
                        .currency = p->currency,
                        .digits = p->digits,
                        .lines = KS_TAKE(all->arena, n, ks_account_line)};
}

ks_status ks_book_accounts(ks_book *book, const char *member, const char *from, const char *to,
                           ks_arena *arena, int *n, ks_account **out, ks_error *err)
{
    postings all = {.arena = arena};
    int room = 0;
    *n = 0;
    *out = NULL;
    ks_status status = post_all(book, member, &all, err);
    if (status)
        return status;
    find_ids(&all);
    if (all.n > 0)
        qsort(all.all, (size_t)all.n, sizeof *all.all, by_account);
    for (int i = 0; i < all.n; i++) {
        if (!is_asked(&all.all[i], member))
            continue;
        if (*n == 0 || is_new_account(&all, i)) {
            *out = KS_GROW(arena, *out, *n, &room, ks_account);
            open_account(&all, i, &(*out)[(*n)++]);
        }
        enter(&(*out)[*n - 1], &all.all[i], from, to);
    }
    if (*n == 0 && member)
        return ks_fail(err, KS_BAD_USAGE,
                       "found \"%s\"; the record has charged and been paid by no such member",
                       member);
    return KS_OK;
}

ks_status ks_book_currency(ks_book *book, ks_arena *arena, const char **currency, int *digits,
                           ks_error *err)
{
    sqlite3_stmt *row = NULL;
    bool more = false;
    *currency = "";
    ks_status status = ks_book_prepare(book,
                                       "SELECT currency, digits FROM firing WHERE currency <> ''"
                                       " ORDER BY started DESC, n DESC, edition DESC LIMIT 1",
                                       &row, err);
    if (!status)
        status = ks_book_step(book, row, &more, err);
    if (!status && more) {
        *currency = ks_book_text(row, 0, arena);
        *digits = sqlite3_column_int(row, 1);
    }
    sqlite3_finalize(row);
    return status;
}

ks_status ks_book_knows(ks_book *book, const char *member, bool *known, ks_error *err)
{
    sqlite3_stmt *row = NULL;
    bool more = false;
    *known = false;
    ks_status status =
        ks_book_prepare(book,
                        "SELECT EXISTS (SELECT 1 FROM charge WHERE member = ?1 OR name = ?1)"
                        " OR EXISTS (SELECT 1 FROM payment WHERE member = ?1)",
                        &row, err);
    if (!status) {
        sqlite3_bind_text(row, 1, member, -1, SQLITE_STATIC);
        status = ks_book_step(book, row, &more, err);
    }
    if (!status && more)
        *known = sqlite3_column_int(row, 0) != 0;
    sqlite3_finalize(row);
    return status;
}

/* A firing of the record, and where it stands in the row of all. */
typedef struct {
    const ks_book_firing *firing;
    int at;
} fired_plan;

static int by_plan_last_first(const void *a, const void *b)
{
    const fired_plan *x = a, *y = b;
    int order = strcmp(x->firing->plan, y->firing->plan);
    return order != 0 ? order : y->at - x->at;
}

static int last_first(const void *a, const void *b)
{
    return ((const fired_plan *)b)->at - ((const fired_plan *)a)->at;
}

/* The plans that were fired, the last first, each once. */
static int plans_back(const ks_book_firing *firings, int n, fired_plan *out)
{
    int n_out = 0;
    for (int i = 0; i < n; i++)
        out[i] = (fired_plan){&firings[i], i};
    qsort(out, (size_t)n, sizeof *out, by_plan_last_first);
    for (int i = 0; i < n; i++)
        if (i == 0 || strcmp(out[i].firing->plan, out[n_out - 1].firing->plan) != 0)
            out[n_out++] = out[i];
    qsort(out, (size_t)n_out, sizeof *out, last_first);
    return n_out;
}

static bool waited_in(const ks_book_firing *firing, const char *member, const char *piece)
{
    for (int i = 0; i < firing->n_waited; i++)
        if (strcmp(firing->waited[i].piece, piece) == 0 &&
            strcmp(firing->waited[i].member, member) == 0)
            return true;
    return false;
}

/* Goes back from plan to plan for as long as some of the ware was left out by each. */
static ks_status count_times(ks_book *book, const fired_plan *plans, int n_plans, ks_arena *arena,
                             int n, ks_waiting_ware *waiting, ks_error *err)
{
    bool some = n > 0;
    for (int p = 0; p < n_plans && some; p++) {
        int found;
        ks_book_firing *firing;
        ks_book_asked asked = {.n = plans[p].firing->mark.n, .lists = KS_LIST_WAITED};
        ks_status status = ks_book_firings(book, &asked, arena, &found, &firing, err);
        if (status)
            return status;
        some = false;
        for (int i = 0; i < n && found > 0; i++)
            if (waiting[i].times == p && waited_in(firing, waiting[i].member, waiting[i].piece)) {
                waiting[i].times++;
                waiting[i].since = firing->started;
                some = true;
            }
    }
    return KS_OK;
}

ks_status ks_book_waiting(ks_book *book, ks_arena *arena, int *n, ks_waiting_ware **out,
                          ks_error *err)
{
    int n_firings, found;
    ks_book_firing *firings, *last;
    *n = 0;
    ks_status status = ks_book_firings(book, &(ks_book_asked){0}, arena, &n_firings, &firings, err);
    if (status || n_firings == 0)
        return status;
    fired_plan *plans = KS_TAKE(arena, n_firings, fired_plan);
    int n_plans = plans_back(firings, n_firings, plans);
    ks_book_asked asked = {.n = plans[0].firing->mark.n, .lists = KS_LIST_WAITED};
    status = ks_book_firings(book, &asked, arena, &found, &last, err);
    if (status || found == 0)
        return status;
    *out = KS_TAKE(arena, last->n_waited, ks_waiting_ware);
    for (int i = 0; i < last->n_waited; i++) {
        const ks_waited *ware = &last->waited[i];
        (*out)[(*n)++] = (ks_waiting_ware){ware->member, ware->piece, ware->name,   ware->why,
                                           ware->copies, 0,           last->started};
    }
    return count_times(book, plans, n_plans, arena, *n, *out, err);
}
