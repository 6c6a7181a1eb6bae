# An image that serves and reports on the folder mounted at /trial, as a plain user:
#
#   docker build -t traygauge .
#   docker run --rm --user "$(id -u):$(id -g)" -v "$PWD/kale-trial:/trial" traygauge report .
#   docker run --rm --user "$(id -u):$(id -g)" -v "$PWD/kale-trial:/trial" --network host traygauge serve . --lan
#
# .ci/dockerfile-check carries these steps out without Docker.

FROM golang:1.26-bookworm AS build
RUN apt-get update \
    && apt-get install -y --no-install-recommends dpkg-dev g++ libheif1 libjpeg-dev patchelf pkg-config libopencv-dev libopencv-contrib-dev \
    && rm -rf /var/lib/apt/lists/*
WORKDIR /src
# Modules change less often than code: a layer of their own.
COPY go.mod go.sum ./
RUN go mod download
COPY . .
RUN .ci/package image

FROM debian:bookworm-slim
COPY --from=build /src/dist/image/ /
RUN ldconfig \
    && useradd --create-home traygauge \
    && install -d -o traygauge -g traygauge /trial
USER traygauge
WORKDIR /trial
EXPOSE 8510
ENTRYPOINT ["traygauge"]
