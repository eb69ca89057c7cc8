/* The other end of the timecode tests, by libltc.
 *   peer write RATE FPS DROP HH MM SS FF FRAMES  32-bit floats, mono, on standard output, full scale 1
 *   peer read RATE FPS                           such floats on standard input; a label a line on standard output
 *   peer times RATE FPS                          the same, with the sample at which the frame begins after each label
 */
#include <ltc.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int write_labels(char **arg)
{
    double rate = atof(arg[0]), fps = atof(arg[1]);
    int drop = atoi(arg[2]), frames = atoi(arg[7]);
    enum LTC_TV_STANDARD standard = fps == 25.0 ? LTC_TV_625_50 : fps == 24.0 ? LTC_TV_FILM_24 : LTC_TV_525_60;
    LTCEncoder *encoder = ltc_encoder_create(rate, fps, standard, 0);
    SMPTETimecode label;
    memset(&label, 0, sizeof label);
    strcpy(label.timezone, "+0000");
    label.hours = atoi(arg[3]);
    label.mins = atoi(arg[4]);
    label.secs = atoi(arg[5]);
    label.frame = atoi(arg[6]);
    ltc_encoder_set_timecode(encoder, &label);
    if (drop) {
        LTCFrame frame;
        ltc_encoder_get_frame(encoder, &frame);
        frame.dfbit = 1;
        ltc_encoder_set_frame(encoder, &frame);
    }
    for (int i = 0; i < frames; i++) {
        ltcsnd_sample_t *samples;
        ltc_encoder_encode_frame(encoder);
        int count = ltc_encoder_get_bufferptr(encoder, &samples, 1);
        for (int s = 0; s < count; s++) {
            float value = (samples[s] - 128) / 128.0f;
            fwrite(&value, sizeof value, 1, stdout);
        }
        ltc_encoder_inc_timecode(encoder);
    }
    ltc_encoder_free(encoder);
    return 0;
}

static int read_labels(char **arg, int with_times)
{
    LTCDecoder *decoder = ltc_decoder_create((int)(atof(arg[0]) / atof(arg[1])), 64);
    float block[512];
    size_t count;
    ltc_off_t at = 0;
    while ((count = fread(block, sizeof *block, 512, stdin)) > 0) {
        LTCFrameExt frame;
        ltc_decoder_write_float(decoder, block, count, at);
        at += (ltc_off_t)count;
        while (ltc_decoder_read(decoder, &frame)) {
            SMPTETimecode label;
            ltc_frame_to_time(&label, &frame.ltc, 0);
            printf("%02d:%02d:%02d%c%02d", label.hours, label.mins, label.secs, frame.ltc.dfbit ? ';' : ':', label.frame);
            if (with_times) printf(" %lld", (long long)frame.off_start);
            putchar('\n');
        }
    }
    ltc_decoder_free(decoder);
    return 0;
}

int main(int count, char **arg)
{
    if (count == 10 && !strcmp(arg[1], "write")) return write_labels(arg + 2);
    if (count == 4 && !strcmp(arg[1], "read")) return read_labels(arg + 2, 0);
    if (count == 4 && !strcmp(arg[1], "times")) return read_labels(arg + 2, 1);
    return 2;
}
