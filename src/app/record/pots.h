/* pots.h: the life of each kind of ware by the record: fired, lost, fired again, sold. */
#ifndef KILNSTOW_APP_RECORD_POTS_H
#define KILNSTOW_APP_RECORD_POTS_H

#include "kilnstow/book.h"

/* Copies of one kind and owner; one that was in two firings was fired twice. */
typedef struct {
    const char *piece, *owner;
    int fired, lost, again;
    int sold, commission,
        seconds; /* those on commission that came back or were sold do not count */
} ks_pot_life;

/* Of all owners, or of one; by piece and owner. */
ks_status ks_pots_look(const char *book_path, const char *member, ks_arena *arena, int *n,
                       ks_pot_life **out, ks_error *err);

/* Writes what became of ware; `price` in the currency of the record's last bill, NULL = not told.
 * KS_BAD_USAGE names what was found and what would be right. */
ks_status ks_fate_write(const char *book_path, const char *price, ks_book_fate *fate,
                        ks_arena *arena, ks_error *err);

#endif
