/* page_file.h: the files of the page, which the program carries with it. */
#ifndef KILNSTOW_WEB_PAGE_FILE_H
#define KILNSTOW_WEB_PAGE_FILE_H

#include <stddef.h>

typedef struct {
    const char *name; /* "start.html" */
    const unsigned char *bytes;
    size_t length;
} ks_page_file;

extern const ks_page_file ks_page_files[];
extern const int ks_n_page_files;

/* The file at this path of an address ("/" is the first page), NULL where there is none. */
const ks_page_file *ks_page_find(const char *path);

/* What the ending of a file's name stands for, as in RFC 6838: "text/css; charset=utf-8". NULL for
 * an ending that the server has nothing to do with. */
const char *ks_media_type(const char *name);

#endif
