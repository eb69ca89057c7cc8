/* The peer of the benchmark: liblo makes and sends bundles of 96 faders over UDP for a while, and prints how many a second.
 *   liblo PORT SECONDS */
#include <lo/lo.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { faders = 96 };

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return time.tv_sec + time.tv_nsec / 1e9;
}

int main(int count, char **arg)
{
    if (count != 3) return 2;
    lo_address to = lo_address_new("127.0.0.1", arg[1]);
    char path[faders][32];
    for (int i = 0; i < faders; i++) snprintf(path[i], sizeof path[i], "/strip/%d/fader", i + 1);
    double begin = now(), end = begin + atof(arg[2]);
    long sent = 0;
    do {
        lo_bundle bundle = lo_bundle_new(LO_TT_IMMEDIATE);
        for (int i = 0; i < faders; i++) {
            lo_message message = lo_message_new();
            lo_message_add_float(message, (float)((sent + i) % 1000) / 1000.0f);
            lo_bundle_add_message(bundle, path[i], message);
        }
        if (lo_send_bundle(to, bundle) < 0) return 1;
        lo_bundle_free_recursive(bundle);
        sent++;
    } while (now() < end);
    printf("%.0f\n", sent / (now() - begin));
    lo_address_free(to);
    return 0;
}
