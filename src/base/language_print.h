/* language_print.h: printf in the language in use. */
#ifndef KILNSTOW_BASE_LANGUAGE_PRINT_H
#define KILNSTOW_BASE_LANGUAGE_PRINT_H

#include <stdarg.h>
#include <stddef.h>

/* vsnprintf with the format as it is said in the language in use, which may ask for its arguments
 * in another order ("%2$s"). A text of the program's own that goes into a %s, such as a unit or the
 * name of a stage, is a message too; what people wrote, and what stands in quotes, never is. Widths
 * count letters, not bytes. In English it is vsnprintf. */
int ks_language_print(char *text, size_t room, const char *format, va_list args)
    __attribute__((format(printf, 3, 0)));

#endif
