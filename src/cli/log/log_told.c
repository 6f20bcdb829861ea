#include "cli/log/log_told.h"

#include "base/money_text.h"
#include "base/text.h"
#include "cli/frame/speech.h"

#include <math.h>

const char *ks_cli_amount(int64_t minor, int digits, const char *currency, ks_arena *arena)
{
    return ks_joined(ks_money_print(minor, digits, arena), " ", currency, arena);
}

static const char *kwh_of(const ks_book_firing *firing, ks_arena *arena)
{
    return isnan(firing->kwh) ? "-" : ks_arena_print(arena, "%.1f kWh", firing->kwh);
}

static const char *bill_of(const ks_book_firing *firing, ks_arena *arena)
{
    return *firing->currency
               ? ks_cli_amount(firing->bill_minor, firing->digits, firing->currency, arena)
               : "-";
}

static int lost_of(const ks_book_firing *firing)
{
    int n = 0;
    for (int i = 0; i < firing->n_losses; i++)
        n += firing->losses[i].copies;
    return n;
}

void ks_cli_log_line_head(void)
{
    printf("%5s  %-16s  %-16s  %12s  %14s  %5s  %s\n", "n", ks_tr("on"), ks_tr("kiln"),
           ks_tr("drawn"), ks_tr("bill"), ks_tr("lost"), ks_tr("title"));
}

void ks_cli_log_line(const ks_book_firing *firing, ks_arena *arena)
{
    printf("%5d  %-16s  %-16s  %12s  %14s  %5d  %s%s\n", firing->mark.n, firing->started,
           firing->kiln, kwh_of(firing, arena), bill_of(firing, arena), lost_of(firing),
           firing->title, *firing->struck ? ks_tr(" (struck out)") : "");
}

static void tell_cones(const ks_book_firing *firing)
{
    for (int i = 0; i < firing->n_cones; i++) {
        const ks_cone_seen *cone = &firing->cones[i];
        printf("  level %s%s%s: cone %s down\n", cone->level, *cone->side ? ", " : "",
               ks_tr(cone->side), cone->cone);
    }
}

static void tell_money(const ks_book_firing *firing, ks_arena *arena)
{
    if (!*firing->currency)
        return;
    printf("  bill by the meter: %s\n", bill_of(firing, arena));
    for (int i = 0; i < firing->n_charges; i++) {
        const ks_charge *charge = &firing->charges[i];
        const char *name = *charge->name ? charge->name : ks_tr("the studio");
        printf("    %-24s %4d pieces  %s\n", name, charge->pieces,
               ks_cli_amount(charge->minor, firing->digits, firing->currency, arena));
    }
}

void ks_cli_log_entry(const ks_book_firing *firing, ks_arena *arena)
{
    printf("Entry %d", firing->mark.n);
    if (firing->mark.edition > 1)
        printf(", edition %d", firing->mark.edition);
    printf(": load %d of plan %.8s, kiln %s, written %s\n", firing->load, firing->plan,
           firing->kiln, firing->mark.written);
    if (*firing->struck)
        printf("  struck out, counts no more: %s\n", firing->struck);
    printf("  switched on %s", firing->started);
    if (*firing->ended)
        printf(", over %s", firing->ended);
    printf("\n");
    if (isnan(firing->kwh))
        printf("  no meter's reading, so no bill, and nothing to tune by\n");
    else if (isnan(firing->meter_from))
        printf("  drawn: %.1f kWh\n", firing->kwh);
    else
        printf("  drawn: %.1f kWh (meter %.10g to %.10g %s)\n", firing->kwh, firing->meter_from,
               firing->meter_to, firing->meter_unit);
    tell_cones(firing);
    for (int i = 0; i < firing->n_losses; i++) {
        const ks_loss *loss = &firing->losses[i];
        printf("  lost: %d x %s%s%s: %s\n", loss->copies, loss->piece, *loss->third ? ", " : "",
               ks_tr(loss->third), loss->why);
    }
    for (int i = 0; i < firing->n_again; i++)
        printf("  to be fired again: %d x %s: %s\n", firing->again[i].copies,
               firing->again[i].piece, firing->again[i].why);
    for (int i = 0; i < firing->n_corrections; i++) {
        const ks_correction *what = &firing->corrections[i];
        if (what->copies < 0)
            printf("  did not go in: %d x %s\n", -what->copies, what->piece);
        else
            printf("  went in besides: %d x %s\n", what->copies, what->piece);
    }
    if (!isnan(firing->minutes))
        printf("  worked: %.0f min\n", firing->minutes);
    if (firing->n_readings > 0)
        printf("  curve: %d readings\n", firing->n_readings);
    for (int i = 0; i < firing->n_photos; i++)
        printf("  photograph: %s\n", firing->photos[i].file);
    if (*firing->note)
        printf("  note: %s\n", firing->note);
    tell_money(firing, arena);
}
