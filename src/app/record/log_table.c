/* The record's firings as a table for spreadsheets. */
#include "app/record/log_run.h"

#include "base/data/csv_out.h"
#include "base/money_text.h"

#include <math.h>

static void add_number(ks_csv_out *out, double number)
{
    ks_csv_plain(out, isnan(number) ? "" : ks_number_print(number, out->text.arena));
}

static const char *cones_of(const ks_book_firing *firing, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (int i = 0; i < firing->n_cones; i++) {
        const ks_cone_seen *cone = &firing->cones[i];
        ks_text_add(&text, i > 0 ? "; " : "");
        ks_text_add(&text, ks_joined(cone->level, *cone->side ? ":" : "", cone->side, arena));
        ks_text_add(&text, ks_joined("=", cone->cone, "", arena));
    }
    return ks_text_end(&text);
}

static const char *losses_of(const ks_book_firing *firing, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (int i = 0; i < firing->n_losses; i++) {
        const ks_loss *loss = &firing->losses[i];
        ks_text_add(&text, ks_joined(i > 0 ? "; " : "", loss->piece, " x ", arena));
        ks_text_add_number(&text, loss->copies);
        ks_text_add(&text, ks_joined(*loss->third ? ", " : "", loss->third, "", arena));
        ks_text_add(&text, ks_joined(": ", loss->why, "", arena));
    }
    return ks_text_end(&text);
}

const char *ks_log_csv(int n, const ks_book_firing *firings, ks_arena *arena)
{
    static const char *const headings[] = {
        "n",        "kiln",       "title",    "load",       "started", "ended",
        "kwh",      "meter_from", "meter_to", "meter_unit", "minutes", "bill",
        "currency", "cones",      "losses",   "note",       NULL};
    ks_csv_out out = {.text.arena = arena, .separator = ',', .decimal = '.'};
    ks_csv_heads(&out, headings);
    ks_csv_end_row(&out);
    for (int i = 0; i < n; i++) {
        const ks_book_firing *f = &firings[i];
        add_number(&out, f->mark.n);
        ks_csv_quoted(&out, f->kiln);
        ks_csv_quoted(&out, f->title);
        add_number(&out, f->load);
        ks_csv_quoted(&out, f->started);
        ks_csv_quoted(&out, f->ended);
        add_number(&out, f->kwh);
        add_number(&out, f->meter_from);
        add_number(&out, f->meter_to);
        ks_csv_quoted(&out, f->meter_unit);
        add_number(&out, f->minutes);
        ks_csv_plain(&out, *f->currency ? ks_money_print(f->bill_minor, f->digits, arena) : "");
        ks_csv_quoted(&out, f->currency);
        ks_csv_quoted(&out, cones_of(f, arena));
        ks_csv_quoted(&out, losses_of(f, arena));
        ks_csv_quoted(&out, f->note);
        ks_csv_end_row(&out);
    }
    return ks_text_end(&out.text);
}
