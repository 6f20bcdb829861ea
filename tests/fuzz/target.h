/* target.h: what the fuzzed readers share. */
#ifndef KILNSTOW_FUZZ_TARGET_H
#define KILNSTOW_FUZZ_TARGET_H

#include "kilnstow/error.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

/* Ends as a crash does where it does not hold. */
void require(bool holds);

/* The readers take paths: an unnamed file in memory has one. Returns its descriptor, to be closed.
 */
int file_of(const void *bytes, size_t length, char path[40]);

/* Whether a reader's status and words agree. */
void require_words(ks_status status, const ks_error *err);

#endif
