#include "app/record/loss_rates.h"

#include "base/text.h"

/* Of the order's own rate, in pieces; common practice, no source. */
#define TOLD_PIECES 100.0

const char *ks_glaze_name(const ks_order *order, const ks_piece *piece, ks_arena *arena)
{
    ks_text names = {.arena = arena};
    for (int i = 0; i < piece->n_glazes && piece->stage == KS_GLAZED; i++)
        ks_text_add(&names,
                    ks_joined(i > 0 ? " + " : "", order->glazes[piece->glazes[i]].id, "", arena));
    return ks_text_end(&names);
}

static const double *rates_of(const ks_losses *losses, const ks_order *order, ks_arena *arena)
{
    double *rates = KS_TAKE(arena, order->n_pieces * KS_THIRDS, double);
    for (int i = 0; i < order->n_pieces; i++) {
        const ks_piece *piece = &order->pieces[i];
        for (int third = 0; third < KS_THIRDS; third++) {
            const char *values[KS_LOST_BY] = {piece->id, ks_glaze_name(order, piece, arena),
                                              piece->owner ? piece->owner : "",
                                              ks_third_name(third)};
            rates[i * KS_THIRDS + third] = ks_losses_rate(losses, values);
        }
    }
    return rates;
}

ks_status ks_loss_rates(const char *book_path, const ks_order *order, ks_arena *arena,
                        ks_losses *losses, const double **out, ks_error *err)
{
    ks_book *book;
    *out = NULL;
    ks_status status = ks_book_open(book_path, KS_BOOK_LOOK, &book, err);
    if (!status)
        status = ks_book_losses(book, arena, losses, err);
    ks_book_close(book);
    if (status || losses->copies == 0 || !order->money)
        return status;
    losses->rate =
        (losses->lost + TOLD_PIECES * order->money->losses) / (losses->copies + TOLD_PIECES);
    *out = rates_of(losses, order, arena);
    return KS_OK;
}
