/* version.h: the program's version; it is written into every plan. */
#ifndef KILNSTOW_APP_VERSION_H
#define KILNSTOW_APP_VERSION_H

#define KS_VERSION "0.1.0"

#endif
