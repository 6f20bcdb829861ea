/* reason_words.h: a reason in words. */
#ifndef KILNSTOW_STUDIO_REASON_WORDS_H
#define KILNSTOW_STUDIO_REASON_WORDS_H

#include "kilnstow/order.h"
#include "kilnstow/reason.h"

/* "by 12.5 mm, standing by itself", in the language in use; "" where there is nothing to add to
 * what kind it is of. */
const char *ks_reason_words(const ks_reason *reason, const ks_display *display, ks_arena *arena);

/* The same in English whatever is spoken, as plans have it. */
const char *ks_reason_english(const ks_reason *reason, const ks_display *display, ks_arena *arena);

#endif
