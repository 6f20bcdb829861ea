/* dispatch.h: finds which command of a table is meant, and hands over. */
#ifndef KILNSTOW_CLI_DISPATCH_H
#define KILNSTOW_CLI_DISPATCH_H

typedef struct {
    const char *name, *does;
    int (*run)(int argc, char **argv); /* returns the exit status */
} ks_cli_entry;

typedef struct {
    const char *called; /* "kilnstow", "kilnstow log" */
    const char *head;   /* what its help begins with */
    const ks_cli_entry *entries;
    int n;
} ks_cli_table;

/* Runs the command that argv[1] names; tells them all where it asks for help, names none or one
 * that is not there. Returns the exit status. */
int ks_cli_dispatch(const ks_cli_table *table, int argc, char **argv);

#endif
