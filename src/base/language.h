/* language.h: the language in which people are spoken to. English is that of the sources; others
 * are catalogues built in (src/words). Formats of ks_arena_print, ks_text_print, ks_fail and their
 * kin are looked up by themselves; a text that goes elsewhere, or into a %s, passes ks_tr. */
#ifndef KILNSTOW_BASE_LANGUAGE_H
#define KILNSTOW_BASE_LANGUAGE_H

#include <stdbool.h>

/* Whether it can be spoken. */
bool ks_language_is_known(const char *code);

/* From here on this language is spoken, "en" or that of a catalogue; false, and nothing changes,
 * where there is none. For the whole process: call it before there are threads. */
bool ks_language_use(const char *code);

/* The code of the language in use. */
const char *ks_language(void);

/* What may be asked for, for people: "en, de". */
const char *ks_languages(void);

/* What is said for the message; itself where its language has none. Lives as long as the program.
 */
const char *ks_tr(const char *message) __attribute__((format_arg(1)));

/* The form for so many: ks_tr_count(n, "%d load", "%d loads"). */
const char *ks_tr_count(long n, const char *one, const char *many) __attribute__((format_arg(2)))
__attribute__((format_arg(3)));

/* Marks a message where it stands in a table; it passes ks_tr where it is told. */
#define KS_WORDS(message) message

#endif
