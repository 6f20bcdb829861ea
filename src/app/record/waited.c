#include "app/record/waited.h"

#include "base/text.h"
#include "kilnstow/learn.h"

#include <math.h>
#include <string.h>

static void tell(ks_order *order, const ks_waiting_ware *ware)
{
    for (int i = 0; i < order->n_pieces; i++) {
        ks_piece *piece = &order->pieces[i];
        const char *owner = piece->owner ? piece->owner : "";
        if (isnan(piece->waited) && strcmp(piece->id, ware->piece) == 0 &&
            strcmp(owner, ware->member) == 0)
            piece->waited = ware->times;
    }
}

/* "vase (3 plans), tower (2 plans)": those that have waited and are, or are not, left out again. */
static const char *names_of(const ks_plan *plan, bool again, ks_arena *arena)
{
    ks_text names = {.arena = arena};
    for (int i = 0; i < plan->order->n_pieces; i++) {
        const ks_piece *piece = &plan->order->pieces[i];
        bool left = false;
        for (int k = 0; k < plan->n_left_out; k++)
            left = left || plan->left_out[k].piece == i;
        if (!(piece->waited >= KS_WAITED_ENOUGH) || left != again)
            continue;
        ks_text_add(&names, names.length > 0 ? ", " : "");
        ks_text_print(&names, "%s (%.0f plans)", piece->id, piece->waited + again);
    }
    return ks_text_end(&names);
}

int ks_waited_words(const ks_plan *plan, ks_arena *arena, const char *words[2])
{
    const char *first = names_of(plan, false, arena), *again = names_of(plan, true, arena);
    int n = 0;
    if (*first)
        words[n++] = ks_arena_print(
            arena, "left out by plans before, so they went first in this one: %s", first);
    if (*again)
        words[n++] = ks_arena_print(
            arena,
            "left out again, though they went first; look at why, and at what would help: %s",
            again);
    return n;
}

ks_status ks_waited_tell(const char *book_path, ks_order *order, ks_arena *arena, ks_error *err)
{
    ks_book *book;
    int n = 0;
    ks_waiting_ware *waiting = NULL;
    ks_status status = ks_book_open(book_path, KS_BOOK_LOOK, &book, err);
    if (!status)
        status = ks_book_waiting(book, arena, &n, &waiting, err);
    ks_book_close(book);
    if (status)
        return status;
    for (int i = 0; i < n; i++)
        tell(order, &waiting[i]);
    return KS_OK;
}
