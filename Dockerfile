# docker build -t traygauge .
# docker run --rm --user "$(id -u):$(id -g)" -v "$PWD/kale-trial:/trial" traygauge measure .
#
# .ci/dockerfile-check carries these steps out without Docker.

FROM golang:1.26-bookworm AS build
RUN apt-get update \
    && apt-get install -y --no-install-recommends g++ patchelf pkg-config libopencv-dev libopencv-contrib-dev \
    && rm -rf /var/lib/apt/lists/*
WORKDIR /src
# Modules change less often than code: a layer of their own.
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN make build
# The linker still lists libraries of which nothing is left in the program: windows, video, neural networks, a third of the
# image with all that they need in turn. They are struck off, and ldd -r would name any symbol that is used after all.
RUN for library in dnn features2d highgui objdetect photo video videoio; do \
        patchelf --remove-needed libopencv_$library.so.406 bin/traygauge || exit 1; \
    done \
    && ! ldd -r bin/traygauge | grep -E 'undefined symbol|not found'
# Of the contributed modules only the marker finder is used; their package would bring the windows back.
RUN cp -L /usr/lib/*/libopencv_aruco.so.406 bin/

FROM debian:bookworm-slim
RUN apt-get update \
    && apt-get install -y --no-install-recommends \
        libopencv-calib3d406 \
        libopencv-core406 \
        libopencv-imgcodecs406 \
        libopencv-imgproc406 \
        libheif1 \
    && rm -rf /var/lib/apt/lists/* \
    && useradd --create-home traygauge \
    && install -d -o traygauge -g traygauge /trial
COPY --from=build /src/bin/libopencv_aruco.so.406 /usr/local/lib/
COPY --from=build /src/bin/traygauge /usr/local/bin/
RUN ldconfig
USER traygauge
WORKDIR /trial
ENTRYPOINT ["traygauge"]
