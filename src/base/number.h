/* number.h: numbers to text and back in a way that no locale can change. */
#ifndef KILNSTOW_BASE_NUMBER_H
#define KILNSTOW_BASE_NUMBER_H

#include "kilnstow/arena.h"

#include <stdarg.h>

/* vsnprintf with a point for decimals, whatever the locale, and the format in the language in
 * use. */
int ks_print_plain(char *text, size_t room, const char *format, va_list args)
    __attribute__((format(printf, 3, 0)));

/* Reads a number as JSON writes it, but leading zeros, "+" and ".5" also pass ("-12.5e3"; no
 * "inf", no hex), from the start of `text`, which ends in a NUL. Correctly rounded, infinite when
 * too large. Returns the bytes read, 0 if there is no number. */
size_t ks_number_read(const char *text, double *number);

/* The shortest text that reads back as the same double: "123.456", "-0.5", "1e-9". Asserts that
 * the number is finite; -0 is "0". */
enum { KS_NUMBER_ROOM = 32 };
void ks_number_write(double number, char text[KS_NUMBER_ROOM]);
const char *ks_number_print(double number, ks_arena *arena);

/* With so many decimals, rounded from the double's exact value: "26.0"; never "-0.0". */
const char *ks_number_fixed(double number, int decimals, ks_arena *arena);

#endif
