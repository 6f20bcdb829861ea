/* The record's firings as a table for spreadsheets. */
#include "app/record/log_run.h"

#include "base/money_text.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

static void add_cell(ks_text *to, const char *text, bool last)
{
    ks_text_add(to, "\"");
    if (*text && strchr("=+-@\t\r", *text)) /* which a spreadsheet would take for a formula */
        ks_text_add(to, "'");
    for (; *text; text++) {
        if (*text == '"')
            ks_text_add(to, "\"");
        ks_text_add_n(to, text, 1);
    }
    ks_text_add(to, last ? "\"\r\n" : "\",");
}

static void add_number(ks_text *to, double number)
{
    if (!isnan(number))
        ks_text_add_number(to, number);
    ks_text_add(to, ",");
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
        ks_text_add(&text, ks_joined(": ", loss->why, "", arena));
    }
    return ks_text_end(&text);
}

const char *ks_log_csv(int n, const ks_book_firing *firings, ks_arena *arena)
{
    ks_text to = {.arena = arena};
    ks_text_add(&to, "n,kiln,title,load,started,ended,kwh,meter_from,meter_to,meter_unit,minutes,"
                     "bill,currency,cones,losses,note\r\n");
    for (int i = 0; i < n; i++) {
        const ks_book_firing *f = &firings[i];
        add_number(&to, f->mark.n);
        add_cell(&to, f->kiln, false);
        add_cell(&to, f->title, false);
        add_number(&to, f->load);
        add_cell(&to, f->started, false);
        add_cell(&to, f->ended, false);
        add_number(&to, f->kwh);
        add_number(&to, f->meter_from);
        add_number(&to, f->meter_to);
        add_cell(&to, f->meter_unit, false);
        add_number(&to, f->minutes);
        if (*f->currency)
            ks_text_add(&to, ks_money_print(f->bill_minor, f->digits, arena));
        ks_text_add(&to, ",");
        add_cell(&to, f->currency, false);
        add_cell(&to, cones_of(f, arena), false);
        add_cell(&to, losses_of(f, arena), false);
        add_cell(&to, f->note, true);
    }
    return ks_text_end(&to);
}
