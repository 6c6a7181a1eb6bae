# docker build -t traygauge .
# docker run --rm --user "$(id -u):$(id -g)" -v "$PWD/kale-trial:/trial" traygauge measure .
#
# .ci/dockerfile-check carries these steps out without Docker.

FROM golang:1.26-bookworm AS build
RUN apt-get update \
    && apt-get install -y --no-install-recommends g++ pkg-config libopencv-dev libopencv-contrib-dev \
    && rm -rf /var/lib/apt/lists/*
WORKDIR /src
# Modules change less often than code: a layer of their own.
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN make build

FROM debian:bookworm-slim
# The OpenCV libraries that `readelf -d bin/traygauge` names; contrib holds the marker finder.
RUN apt-get update \
    && apt-get install -y --no-install-recommends \
        libopencv-calib3d406 \
        libopencv-contrib406 \
        libopencv-core406 \
        libopencv-dnn406 \
        libopencv-features2d406 \
        libopencv-highgui406 \
        libopencv-imgcodecs406 \
        libopencv-imgproc406 \
        libopencv-objdetect406 \
        libopencv-photo406 \
        libopencv-video406 \
        libopencv-videoio406 \
    && rm -rf /var/lib/apt/lists/* \
    && useradd --create-home traygauge \
    && install -d -o traygauge -g traygauge /trial
COPY --from=build /src/bin/traygauge /usr/local/bin/traygauge
USER traygauge
WORKDIR /trial
ENTRYPOINT ["traygauge"]
