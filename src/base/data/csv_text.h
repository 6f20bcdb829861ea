/* csv_text.h: the bytes that spreadsheets write, as UTF-8. */
#ifndef KILNSTOW_BASE_DATA_CSV_TEXT_H
#define KILNSTOW_BASE_DATA_CSV_TEXT_H

#include "kilnstow/arena.h"
#include "kilnstow/error.h"

#include <stddef.h>

/* UTF-8 with or without its mark, UTF-16 of either order with its mark, else Windows-1252, of which
 * *warning then speaks. KS_BAD_INPUT for broken UTF-16 and for NULs. */
ks_status ks_csv_text(const char *name, const char *bytes, size_t length, ks_arena *arena,
                      const char **text, const char **warning, ks_error *err);

#endif
