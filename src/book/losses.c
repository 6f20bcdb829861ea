/* What was lost, and by what: a rate of the studio times a factor for each kind, glaze, owner and
 * third of the chamber. Losses are few and taken as Poisson; each factor has a gamma prior of mean
 * 1 that weighs as much as two expected losses. The factors are found one after the other, each so
 * that what is expected of its rows meets what was lost, until none moves: proportional fitting
 * (Deming and Stephan 1940, Annals of Mathematical Statistics 11, 427) with that prior. */
#include "kilnstow/learn.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PRIOR_LOSSES 2.0
#define STILL 1e-9
#define MOST_RATE 0.95
enum { ROUNDS = 200 };

/* Copies of one kind in one third, summed over firings. */
typedef struct {
    const char *values[KS_LOST_BY];
    int copies;
    double lost;
    int part[KS_LOST_BY]; /* into the parts */
} row;

typedef struct {
    ks_arena *arena;
    int n, room;
    row *rows;
} table;

static int by_values(const void *a, const void *b)
{
    const row *x = a, *y = b;
    for (int by = 0; by < KS_LOST_BY; by++) {
        int order = strcmp(x->values[by], y->values[by]);
        if (order != 0)
            return order;
    }
    return 0;
}

/* Where the loss was told to be; else everywhere that kind stood. */
static bool is_of(const ks_loss *loss, const ks_ware_fired *ware)
{
    return strcmp(loss->piece, ware->piece) == 0 &&
           (!*loss->third || strcmp(loss->third, ware->third) == 0);
}

/* Each loss is spread over the copies that it may have been. */
static double lost_of(const ks_book_firing *firing, const ks_ware_fired *ware)
{
    double lost = 0;
    for (int l = 0; l < firing->n_losses; l++) {
        const ks_loss *loss = &firing->losses[l];
        int copies = 0;
        if (!is_of(loss, ware))
            continue;
        for (int i = 0; i < firing->n_ware; i++)
            copies += is_of(loss, &firing->ware[i]) ? firing->ware[i].copies : 0;
        lost += (double)loss->copies * ware->copies / copies;
    }
    return lost;
}

static void add_firing(table *to, const ks_book_firing *firing)
{
    for (int i = 0; i < firing->n_ware; i++) {
        const ks_ware_fired *ware = &firing->ware[i];
        to->rows = KS_GROW(to->arena, to->rows, to->n, &to->room, row);
        to->rows[to->n++] = (row){.values = {ware->piece, ware->glaze, ware->owner, ware->third},
                                  .copies = ware->copies,
                                  .lost = lost_of(firing, ware)};
    }
}

/* Rows of the same values become one. */
static void sum_up(table *of)
{
    int n = 0;
    if (of->n > 0)
        qsort(of->rows, (size_t)of->n, sizeof *of->rows, by_values);
    for (int i = 0; i < of->n; i++)
        if (n > 0 && by_values(&of->rows[n - 1], &of->rows[i]) == 0) {
            of->rows[n - 1].copies += of->rows[i].copies;
            of->rows[n - 1].lost += of->rows[i].lost;
        } else {
            of->rows[n++] = of->rows[i];
        }
    of->n = n;
}

static int by_value(const void *a, const void *b)
{
    return strcmp(((const ks_loss_part *)a)->value, ((const ks_loss_part *)b)->value);
}

static ks_loss_part *part_of(const ks_losses *in, int by, const char *value)
{
    if (in->n[by] == 0)
        return NULL;
    return bsearch(&(ks_loss_part){.value = value}, in->parts[by], (size_t)in->n[by],
                   sizeof(ks_loss_part), by_value);
}

/* Each value once, and each row's way to it. */
static void find_parts(table *of, int by, ks_losses *out)
{
    ks_loss_part *parts = KS_TAKE(of->arena, of->n, ks_loss_part);
    int n = 0;
    for (int i = 0; i < of->n; i++)
        parts[i] = (ks_loss_part){.value = of->rows[i].values[by], .factor = 1};
    qsort(parts, (size_t)of->n, sizeof *parts, by_value);
    for (int i = 0; i < of->n; i++)
        if (n == 0 || strcmp(parts[n - 1].value, parts[i].value) != 0)
            parts[n++] = parts[i];
    out->parts[by] = parts;
    out->n[by] = n;
    for (int i = 0; i < of->n; i++) {
        ks_loss_part *part = part_of(out, by, of->rows[i].values[by]);
        part->copies += of->rows[i].copies;
        part->lost += of->rows[i].lost;
        of->rows[i].part[by] = (int)(part - parts);
    }
}

static double expected_of(const row *of, const ks_losses *in)
{
    double expected = of->copies * in->rate;
    for (int by = 0; by < KS_LOST_BY; by++)
        expected *= in->parts[by][of->part[by]].factor;
    return expected;
}

/* One kind of factor, by all the others as they are; returns how far the worst moved. */
static double fit_one(const table *of, int by, double *expected, ks_losses *out)
{
    double moved = 0;
    for (int p = 0; p < out->n[by]; p++)
        expected[p] = 0;
    for (int i = 0; i < of->n; i++)
        expected[of->rows[i].part[by]] +=
            expected_of(&of->rows[i], out) / out->parts[by][of->rows[i].part[by]].factor;
    for (int p = 0; p < out->n[by]; p++) {
        ks_loss_part *part = &out->parts[by][p];
        double factor = (part->lost + PRIOR_LOSSES) / (expected[p] + PRIOR_LOSSES);
        moved = fmax(moved, fabs(log(factor / part->factor)));
        part->factor = factor;
        part->sigma = sqrt(part->lost + PRIOR_LOSSES) / (expected[p] + PRIOR_LOSSES);
    }
    return moved;
}

static void fit(const table *of, ks_arena *arena, ks_losses *out)
{
    double *expected = KS_TAKE(arena, of->n, double), moved = 1;
    for (int round = 0; round < ROUNDS && moved > STILL; round++) {
        moved = 0;
        for (int by = 0; by < KS_LOST_BY; by++)
            if (out->n[by] > 1) /* what all ware has in common tells nothing apart */
                moved = fmax(moved, fit_one(of, by, expected, out));
    }
}

ks_status ks_book_losses(ks_book *book, ks_arena *arena, ks_losses *out, ks_error *err)
{
    int n;
    ks_book_firing *firings;
    table all = {.arena = arena};
    ks_book_asked asked = {.lists = KS_LIST_WARE | KS_LIST_LOSSES};
    *out = (ks_losses){0};
    ks_status status = ks_book_firings(book, &asked, arena, &n, &firings, err);
    for (int i = 0; i < n && !status; i++) {
        out->firings += firings[i].n_ware > 0;
        add_firing(&all, &firings[i]);
    }
    sum_up(&all);
    for (int i = 0; i < all.n; i++) {
        out->copies += all.rows[i].copies;
        out->lost += all.rows[i].lost;
    }
    if (status || all.n == 0)
        return status;
    out->rate = out->lost / out->copies;
    for (int by = 0; by < KS_LOST_BY; by++)
        find_parts(&all, by, out);
    fit(&all, arena, out);
    return KS_OK;
}

double ks_losses_rate(const ks_losses *losses, const char *const values[KS_LOST_BY])
{
    double rate = losses->rate;
    for (int by = 0; by < KS_LOST_BY; by++) {
        const ks_loss_part *part = part_of(losses, by, values[by]);
        rate *= part ? part->factor : 1;
    }
    return fmin(rate, MOST_RATE);
}
