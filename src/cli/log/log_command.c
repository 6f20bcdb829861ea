/* kilnstow log: finds which of the record's commands is meant. */
#include "cli/frame/dispatch.h"
#include "cli/log/log_command.h"

#include "base/days/date.h"
#include "base/language.h"
#include "base/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const ks_cli_entry commands[] = {
    {"add", "a firing that took place: meter, times, cones, losses", ks_cli_log_add},
    {"mend", "tells an entry anew; what stood before is kept", ks_cli_log_mend},
    {"list", "the firings of the record", ks_cli_log_list},
    {"show", "one entry in full, with all that stood before", ks_cli_log_show},
    {"tune", "what a kiln's own meter says about it", ks_cli_log_tune},
    {"map", "hot and cold places of a kiln, by the cones seen", ks_cli_log_map},
    {"losses", "how much is lost, and by what", ks_cli_log_losses},
    {"account", "what members owe: charges and payments", ks_cli_log_account},
    {"paid", "a payment by a member", ks_cli_log_paid},
    {"next", "the coming firings of each kiln", ks_cli_log_next},
    {"waiting", "ware that did not go in, and how often", ks_cli_log_waiting},
    {"became", "ware that was sold, went to a shop, came back", ks_cli_log_became},
    {"pots", "each kind of ware: how often fired, lost, sold", ks_cli_log_pots},
    {"upkeep", "shelves and posts broken or bought, parts renewed", ks_cli_log_upkeep},
    {"stock", "what is left of a kiln's furniture, and how old its parts are", ks_cli_log_stock},
    {"export", "all of the record as .json, or its firings as .csv", ks_cli_log_export},
    {"import", "what another record has exported", ks_cli_log_import},
    {"copy", "the record and its folder in one dated file", ks_cli_log_copy},
    {"open", "takes such a copy out, on another machine", ks_cli_log_open},
    {"sound", "whether the record's file is whole; saves what can be saved", ks_cli_log_sound},
};
static const ks_cli_table table = {
    "kilnstow log",
    KS_WORDS("kilnstow log keeps the studio's record: what really happened, and what it "
             "teaches.\n\n"
             "  kilnstow log add plan.json --meter 48210.4 48271.7 --cone 1=6 --cone 5=5.5\n"
             "  kilnstow fire plan.json --book kilnstow.book\n\n"),
    commands, sizeof commands / sizeof *commands};

ks_status ks_cli_entry_number(ks_cli *cli, int *n)
{
    double number;
    const char *given = cli->parsed.args[0];
    if (ks_number_parse(given, &number) || number != floor(number) || number < 1 || number > 1e9)
        return ks_fail(&cli->err, KS_BAD_USAGE,
                       "%s: found \"%s\"; it takes an entry's number, as log list shows them",
                       cli->command->name, given);
    *n = (int)number;
    return KS_OK;
}

static ks_status check_day(ks_cli *cli, const char *option, const char *day)
{
    int number;
    if (!day || !ks_date_parse(day, &number))
        return KS_OK;
    return ks_fail(&cli->err, KS_BAD_USAGE, "--%s: found \"%s\"; it takes a day like 2026-11-28",
                   option, day);
}

ks_status ks_cli_days_check(ks_cli *cli, const char *from, const char *to)
{
    ks_status status = check_day(cli, "from", from);
    return status ? status : check_day(cli, "to", to);
}

int ks_cli_log(int argc, char **argv)
{
    return ks_cli_dispatch(&table, argc, argv);
}
