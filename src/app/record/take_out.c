#include "app/record/take_out.h"

#include "app/machine/where.h"
#include "base/file.h"
#include "base/text.h"
#include "base/words.h"

#include <string.h>

/* Of a clay that is not told, as fractions of its dry mass; common practice, no source. */
#define USUAL_LOSS_ON_IGNITION 0.07

static int piece_called(const ks_order *order, const char *id)
{
    for (int i = 0; i < order->n_pieces; i++)
        if (strcmp(order->pieces[i].id, id) == 0)
            return i;
    return -1;
}

static int copies_of(const ks_book_firing *entry, const char *id)
{
    int copies = 0;
    for (int i = 0; i < entry->n_ware; i++)
        if (strcmp(entry->ware[i].piece, id) == 0)
            copies += entry->ware[i].copies;
    return copies;
}

static int told_of(int n, const ks_loss *told, const char *id)
{
    int copies = 0;
    for (int i = 0; i < n; i++)
        if (strcmp(told[i].piece, id) == 0)
            copies += told[i].copies;
    return copies;
}

static ks_ware_moved moved_by(const ks_order *order, const ks_piece *piece, const ks_firing *firing,
                              int copies, const char *suffix)
{
    const ks_clay *clay = ks_clay_or_usual(order->clays, piece->clay);
    ks_stage stage = ks_stage_after(piece, firing);
    double shrinkage = ks_clay_shrinkage(clay, piece->stage, stage, firing->cone);
    bool raw = piece->stage < KS_BISQUE;
    double burnt =
        piece->clay >= 0 ? order->clays[piece->clay].loss_on_ignition : USUAL_LOSS_ON_IGNITION;
    return (ks_ware_moved){copies, stage, 1 - shrinkage, raw ? 1 - burnt : 1, suffix};
}

/* What became of the copies of one kind that were in the load. */
static ks_ware_taken taken_of(const ks_order *order, int piece, const ks_firing *firing,
                              const ks_book_firing *entry)
{
    const ks_piece *of = &order->pieces[piece];
    int fired = copies_of(entry, of->id), again = told_of(entry->n_again, entry->again, of->id);
    int good = fired - again - told_of(entry->n_losses, entry->losses, of->id);
    bool goes_on = ks_stage_after(of, firing) == KS_BISQUE;
    ks_ware_taken taken = {.piece = piece, .taken = fired, .n_moved = 2};
    taken.moved[0] = moved_by(order, of, firing, goes_on ? good : 0, "bisque");
    taken.moved[1] = moved_by(order, of, firing, again, "again");
    return taken;
}

/* Ids of the order now, against those of the plan: a kind that the order has no more is an error,
 * since nobody could say which row it is. */
static ks_status list_taken(const ks_order *order, const ks_plan *plan, const ks_book_firing *entry,
                            ks_ware_taken *out, int *n, ks_error *err)
{
    const ks_firing *firing = &plan->loads[entry->load - 1].firing;
    for (int i = 0; i < plan->order->n_pieces; i++) {
        const char *id = plan->order->pieces[i].id;
        if (copies_of(entry, id) == 0)
            continue;
        int piece = piece_called(order, id);
        if (piece < 0)
            return ks_fail(err, KS_BAD_INPUT,
                           "%s: has no ware \"%s\", which was in the load; the tables were lowered "
                           "before, or this is another order",
                           order->file, id);
        if (order->pieces[piece].stage != plan->order->pieces[i].stage)
            return ks_fail(
                err, KS_BAD_INPUT,
                "%s: found %s at stage %s, and it went in at %s; the tables were lowered "
                "before, or its stage was told anew",
                order->file, id, ks_stage_name(order->pieces[piece].stage),
                ks_stage_name(plan->order->pieces[i].stage));
        out[(*n)++] = taken_of(order, piece, firing, entry);
    }
    return KS_OK;
}

ks_status ks_take_out_prepare(const char *order_path, const ks_plan *plan,
                              const ks_book_firing *entry, ks_arena *arena, ks_ware_lowered *out,
                              ks_error *err)
{
    ks_order *order;
    int n = 0;
    *out = (ks_ware_lowered){0};
    ks_status status = ks_order_read(order_path, ks_where_kilns(arena), arena, &order, err);
    if (status)
        return status;
    ks_ware_taken *taken = KS_TAKE(arena, plan->order->n_pieces, ks_ware_taken);
    status = list_taken(order, plan, entry, taken, &n, err);
    if (!status)
        status = ks_ware_lower(order, n, taken, arena, out, err);
    for (int i = 0; i < out->n && !status; i++)
        status = ks_file_try(out->tables[i].path, err);
    return status;
}

ks_status ks_take_out_write(const ks_ware_lowered *lowered, ks_arena *arena, ks_error *err)
{
    ks_status status = KS_OK;
    for (int i = 0; i < lowered->n && !status; i++) {
        const ks_ware_left *table = &lowered->tables[i];
        status = ks_file_write(ks_joined(table->path, ".bak", "", arena), table->before.bytes,
                               table->before.length, err);
        if (!status)
            status = ks_file_write(table->path, table->text, strlen(table->text), err);
    }
    return status;
}
