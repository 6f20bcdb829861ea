/* fold.h: when two texts are one name: Unicode's own rules, by libutf8proc. */
#ifndef KILNSTOW_BASE_FOLD_H
#define KILNSTOW_BASE_FOLD_H

#include "kilnstow/arena.h"

#include <stdbool.h>

/* The text with its letters composed (NFC of UAX #15): "e" with an accent behind it is "é". The
 * text itself where that changes nothing. `text` is UTF-8. */
const char *ks_text_compose(const char *text, ks_arena *arena);

/* Whether two texts are one when letter case (full folding), blanks, widths of letters and
 * composing are set aside. */
bool ks_text_alike(const char *a, const char *b);

/* Small letters, words parted by one blank: "  Höhe\u00A0(CM)\n" -> "höhe (cm)"; composed. */
const char *ks_text_plain(const char *text, ks_arena *arena);

#endif
