/* Several kilns compared, as a table for people. */
#include "cli/fit_told.h"

#include "base/money_text.h"
#include "base/text.h"
#include "studio/display.h"
#include "studio/reading/reading.h"

#include <math.h>

enum { KILN, VERDICT, ENERGY, HOURS, OPEN, COST, COLUMNS };

/* A row's cells; "" where there is nothing to tell. */
typedef struct {
    const char *cell[COLUMNS];
} table_row;

static const char *cost_words(const ks_order *order, int64_t minor, ks_arena *arena)
{
    int digits = ks_currency_digits(order->currency);
    return minor < 0 ? ""
                     : ks_arena_print(arena, "%s %s",
                                      ks_money_print(minor, digits < 0 ? 2 : digits, arena),
                                      order->currency);
}

static void tell_firing(const ks_order *order, const ks_fit_row *from, table_row *row,
                        ks_arena *arena)
{
    const ks_firing_result *fired = &from->firing;
    row->cell[ENERGY] = ks_arena_print(arena, "%.0f (%.0f to %.0f) kWh", fired->energy.total,
                                       floor(fired->low_kwh), ceil(fired->high_kwh));
    row->cell[HOURS] = ks_show_hours(fired->hours, arena);
    row->cell[OPEN] = isfinite(fired->open_after_hours)
                          ? ks_show_hours(fired->hours + fired->open_after_hours, arena)
                          : "";
    row->cell[COST] = cost_words(order, from->cost_minor, arena);
}

static table_row row_of(const ks_fit_outcome *outcome, const ks_fit_row *from, ks_arena *arena)
{
    const ks_fit_answer *answer = from->answer;
    table_row row = {{answer->kiln->id, "", "", "", "", ""}};
    row.cell[VERDICT] = ks_arena_print(arena, "%s: %s", answer->head, answer->margin);
    if (from->fired)
        tell_firing(outcome->order, from, &row, arena);
    else if (answer->fits)
        row.cell[ENERGY] = ks_tr("cannot be fired so");
    return row;
}

static table_row heads(const ks_fit_outcome *outcome)
{
    bool costed = false;
    for (int i = 0; i < outcome->n_rows; i++)
        costed = costed || outcome->rows[i].cost_minor >= 0;
    return (table_row){{ks_tr("kiln"), ks_tr("does it fit, with how much to spare"),
                        ks_tr("energy"), ks_tr("fired in"), ks_tr("open after"),
                        costed ? ks_tr("cost") : ""}};
}

static void print_rows(int n, const table_row *rows)
{
    int width[COLUMNS] = {0};
    for (int r = 0; r < n; r++)
        for (int c = 0; c < COLUMNS; c++) {
            int wide = ks_utf8_count(rows[r].cell[c]);
            width[c] = wide > width[c] ? wide : width[c];
        }
    for (int r = 0; r < n; r++) {
        int last = COLUMNS - 1;
        while (last > 0 && !*rows[r].cell[last])
            last--;
        for (int c = 0; c < last; c++)
            printf("  %-*s", width[c], rows[r].cell[c]);
        printf("  %s\n", rows[r].cell[last]);
    }
}

/* What its firing does not do, and why one is not known. */
static void tell_doubts(const ks_fit_row *row)
{
    if (row->fired && !row->firing.reached)
        printf("  %s: %s\n", row->answer->kiln->id, row->firing.verdict);
    if (*row->not_fired)
        printf("  %s: %s\n", row->answer->kiln->id, row->not_fired);
}

static int rows_of(const ks_fit_outcome *outcome, int first)
{
    int n = first;
    while (n < outcome->n_rows &&
           outcome->rows[n].answer->piece == outcome->rows[first].answer->piece)
        n++;
    return n - first;
}

void ks_fit_print_kilns(const ks_fit_outcome *outcome, ks_arena *arena)
{
    for (int first = 0, n; first < outcome->n_rows; first += n) {
        n = rows_of(outcome, first);
        const ks_piece *piece = &outcome->order->pieces[outcome->rows[first].answer->piece];
        table_row *rows = KS_TAKE(arena, n + 1, table_row);
        rows[0] = heads(outcome);
        for (int i = 0; i < n; i++)
            rows[i + 1] = row_of(outcome, &outcome->rows[first + i], arena);
        printf(outcome->n_loads > 0
                   ? "%s in %d kilns, each fired with the load planned around it:\n"
                   : "%s in %d kilns, each fired with it alone:\n",
               piece->id, n);
        print_rows(n + 1, rows);
        for (int i = 0; i < n; i++)
            tell_doubts(&outcome->rows[first + i]);
    }
    if (outcome->n_rows > 0)
        printf("all of it in one kiln: --kiln FILE; energy: 9 of 10 firings lie in its range\n");
}
