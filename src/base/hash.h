/* hash.h: SHA-256, by which two files can be told to be the same. */
#ifndef KILNSTOW_BASE_HASH_H
#define KILNSTOW_BASE_HASH_H

#include <stddef.h>

/* The 64 hexadecimal digits (lower case) and a NUL. */
void ks_sha256(const void *bytes, size_t length, char hex[65]);

#endif
