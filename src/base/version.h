/* version.h: the program's version; it is written into every plan and every answer. */
#ifndef KILNSTOW_BASE_VERSION_H
#define KILNSTOW_BASE_VERSION_H

extern const char ks_version[];

#endif
