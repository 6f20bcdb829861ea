/* retold.h: texts of files that were made of our messages, in the language in use. */
#ifndef KILNSTOW_BASE_RETOLD_H
#define KILNSTOW_BASE_RETOLD_H

#include "kilnstow/arena.h"

/* A plan tells its reasons in English, whoever made it. This finds the message such a text was made
 * of (the one with most words of its own, where several fit), takes out again what was put into it,
 * and says both in the language in use. The text itself in English, and where no message fits. */
const char *ks_retold(const char *text, ks_arena *arena);

/* The same for each of a list: "profile, mass". */
const char *ks_retold_list(const char *list, ks_arena *arena);

#endif
