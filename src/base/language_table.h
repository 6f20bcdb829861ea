/* language_table.h: message catalogues as src/words/catalogue.py makes them of the PO files. */
#ifndef KILNSTOW_BASE_LANGUAGE_TABLE_H
#define KILNSTOW_BASE_LANGUAGE_TABLE_H

enum { KS_PLURAL_FORMS = 6 }; /* no language has more */

typedef struct {
    const char *message; /* as it stands in the sources; of two forms that for one */
    const char *said[KS_PLURAL_FORMS];
} ks_said;

typedef struct {
    const char *code; /* ISO 639: "de" */
    int n;
    const ks_said *messages;      /* sorted by the bytes of `message` */
    int (*form)(unsigned long n); /* which of the forms is said of so many */
} ks_catalogue;

extern const ks_catalogue ks_catalogues[];
extern const int ks_n_catalogues;
/* That of the language in use; NULL = English. */
const ks_catalogue *ks_language_catalogue(void);

extern const char ks_catalogue_codes[]; /* "en, de": what people may ask for */

#endif
