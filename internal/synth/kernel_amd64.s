//go:build !purego

#include "textflag.h"

// Each kernel works on eight samples at a time and rounds the count up.

// func cpuid(leaf, sub uint32) (a, b, c, d uint32)
TEXT ·cpuid(SB), NOSPLIT, $0-24
	MOVL leaf+0(FP), AX
	MOVL sub+4(FP), CX
	CPUID
	MOVL AX, a+8(FP)
	MOVL BX, b+12(FP)
	MOVL CX, c+16(FP)
	MOVL DX, d+20(FP)
	RET

// func xgetbv() uint32
TEXT ·xgetbv(SB), NOSPLIT, $0-4
	XORL CX, CX
	XGETBV
	MOVL AX, ret+0(FP)
	RET

DATA upward<>+0(SB)/4, $0.0
DATA upward<>+4(SB)/4, $1.0
DATA upward<>+8(SB)/4, $2.0
DATA upward<>+12(SB)/4, $3.0
DATA upward<>+16(SB)/4, $4.0
DATA upward<>+20(SB)/4, $5.0
DATA upward<>+24(SB)/4, $6.0
DATA upward<>+28(SB)/4, $7.0
GLOBL upward<>(SB), RODATA|NOPTR, $32

DATA eight<>+0(SB)/4, $8.0
GLOBL eight<>(SB), RODATA|NOPTR, $4

DATA half<>+0(SB)/4, $0.5
GLOBL half<>(SB), RODATA|NOPTR, $4

DATA one<>+0(SB)/4, $1.0
GLOBL one<>(SB), RODATA|NOPTR, $4

DATA phases<>+0(SB)/4, $128.0
GLOBL phases<>(SB), RODATA|NOPTR, $4

// func sumAVX2(out *float32, n int, waves *float32, tones *tone, count int)
// Sixty-four samples stay in eight registers while all tones are added.
TEXT ·sumAVX2(SB), NOSPLIT, $0-40
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ waves+16(FP), SI
	MOVQ tones+24(FP), DX
	MOVQ count+32(FP), R8

sum64:
	CMPQ CX, $64
	JLT  sum8
	VMOVUPS 0(DI), Y0
	VMOVUPS 32(DI), Y1
	VMOVUPS 64(DI), Y2
	VMOVUPS 96(DI), Y3
	VMOVUPS 128(DI), Y4
	VMOVUPS 160(DI), Y5
	VMOVUPS 192(DI), Y6
	VMOVUPS 224(DI), Y7
	MOVQ DX, R9
	MOVQ R8, R10

sum64tone:
	MOVQ (R9), R11
	LEAQ (SI)(R11*4), R11
	VBROADCASTSS 8(R9), Y8
	VFMADD231PS 0(R11), Y8, Y0
	VFMADD231PS 32(R11), Y8, Y1
	VFMADD231PS 64(R11), Y8, Y2
	VFMADD231PS 96(R11), Y8, Y3
	VFMADD231PS 128(R11), Y8, Y4
	VFMADD231PS 160(R11), Y8, Y5
	VFMADD231PS 192(R11), Y8, Y6
	VFMADD231PS 224(R11), Y8, Y7
	ADDQ $16, R9
	DECQ R10
	JNZ  sum64tone
	VMOVUPS Y0, 0(DI)
	VMOVUPS Y1, 32(DI)
	VMOVUPS Y2, 64(DI)
	VMOVUPS Y3, 96(DI)
	VMOVUPS Y4, 128(DI)
	VMOVUPS Y5, 160(DI)
	VMOVUPS Y6, 192(DI)
	VMOVUPS Y7, 224(DI)
	ADDQ $256, DI
	ADDQ $256, SI
	SUBQ $64, CX
	JMP  sum64

sum8:
	CMPQ CX, $0
	JLE  sumdone
	VMOVUPS (DI), Y0
	MOVQ DX, R9
	MOVQ R8, R10

sum8tone:
	MOVQ (R9), R11
	VBROADCASTSS 8(R9), Y8
	VFMADD231PS (SI)(R11*4), Y8, Y0
	ADDQ $16, R9
	DECQ R10
	JNZ  sum8tone
	VMOVUPS Y0, (DI)
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  sum8

sumdone:
	VZEROUPPER
	RET

// func fadeAVX2(out *float32, n int, wave *float32, target, step float32, left int)
TEXT ·fadeAVX2(SB), NOSPLIT, $0-40
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ wave+16(FP), SI
	VBROADCASTSS target+24(FP), Y1
	VBROADCASTSS step+28(FP), Y2
	MOVQ left+32(FP), AX
	DECQ AX
	VXORPS X3, X3, X3
	VCVTSI2SSQ AX, X3, X3
	VBROADCASTSS X3, Y3
	VSUBPS upward<>(SB), Y3, Y3  // frames left after each of the eight
	VBROADCASTSS eight<>(SB), Y4
	VXORPS Y5, Y5, Y5

fade8:
	CMPQ CX, $0
	JLE  fadedone
	VMAXPS Y5, Y3, Y6
	VMOVAPS Y1, Y7
	VFNMADD231PS Y6, Y2, Y7      // target − step·left
	VMOVUPS (DI), Y0
	VFMADD231PS (SI), Y7, Y0
	VMOVUPS Y0, (DI)
	VSUBPS Y4, Y3, Y3
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  fade8

fadedone:
	VZEROUPPER
	RET

// func mixAVX2(into *float32, n int, from *float32, gain float32)
// It writes exactly n samples, since what follows may be in use.
TEXT ·mixAVX2(SB), NOSPLIT, $0-28
	MOVQ into+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ from+16(FP), SI
	VBROADCASTSS gain+24(FP), Y1

mix8:
	CMPQ CX, $8
	JLT  mix1
	VMOVUPS (DI), Y0
	VFMADD231PS (SI), Y1, Y0
	VMOVUPS Y0, (DI)
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  mix8

mix1:
	CMPQ CX, $0
	JLE  mixdone
	VMOVSS (DI), X0
	VMOVSS (SI), X2
	VFMADD231SS X2, X1, X0
	VMOVSS X0, (DI)
	ADDQ $4, DI
	ADDQ $4, SI
	DECQ CX
	JMP  mix1

mixdone:
	VZEROUPPER
	RET

// func shadeAVX2(out *float32, n int, a, b *float32, ga, stepA, gb, stepB float32, from int)
TEXT ·shadeAVX2(SB), NOSPLIT, $0-56
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ a+16(FP), SI
	MOVQ b+24(FP), DX
	VBROADCASTSS ga+32(FP), Y1
	VBROADCASTSS stepA+36(FP), Y2
	VBROADCASTSS gb+40(FP), Y3
	VBROADCASTSS stepB+44(FP), Y4
	MOVQ from+48(FP), AX
	VXORPS X5, X5, X5
	VCVTSI2SSQ AX, X5, X5
	VBROADCASTSS X5, Y5
	VADDPS upward<>(SB), Y5, Y5
	VBROADCASTSS eight<>(SB), Y6

shade8:
	CMPQ CX, $0
	JLE  shadedone
	VMOVAPS Y1, Y7
	VFMADD231PS Y5, Y2, Y7
	VMOVAPS Y3, Y8
	VFMADD231PS Y5, Y4, Y8
	VMULPS (SI), Y7, Y0
	VFMADD231PS (DX), Y8, Y0
	VMOVUPS Y0, (DI)
	VADDPS Y6, Y5, Y5
	ADDQ $32, DI
	ADDQ $32, SI
	ADDQ $32, DX
	SUBQ $8, CX
	JMP  shade8

shadedone:
	VZEROUPPER
	RET

// func convolveAVX2(out *float32, n int, x, taps *float32, count int)
TEXT ·convolveAVX2(SB), NOSPLIT, $0-40
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ x+16(FP), SI
	MOVQ taps+24(FP), DX
	MOVQ count+32(FP), R8

conv32:
	CMPQ CX, $32
	JLT  conv8
	VXORPS Y0, Y0, Y0
	VXORPS Y1, Y1, Y1
	VXORPS Y2, Y2, Y2
	VXORPS Y3, Y3, Y3
	XORQ R9, R9

conv32tap:
	VBROADCASTSS (DX)(R9*4), Y4
	LEAQ (SI)(R9*4), R10
	VFMADD231PS 0(R10), Y4, Y0
	VFMADD231PS 32(R10), Y4, Y1
	VFMADD231PS 64(R10), Y4, Y2
	VFMADD231PS 96(R10), Y4, Y3
	INCQ R9
	CMPQ R9, R8
	JLT  conv32tap
	VMOVUPS Y0, 0(DI)
	VMOVUPS Y1, 32(DI)
	VMOVUPS Y2, 64(DI)
	VMOVUPS Y3, 96(DI)
	ADDQ $128, DI
	ADDQ $128, SI
	SUBQ $32, CX
	JMP  conv32

conv8:
	CMPQ CX, $0
	JLE  convdone
	VXORPS Y0, Y0, Y0
	XORQ R9, R9

conv8tap:
	VBROADCASTSS (DX)(R9*4), Y4
	VFMADD231PS (SI)(R9*4), Y4, Y0
	INCQ R9
	CMPQ R9, R8
	JLT  conv8tap
	VMOVUPS Y0, (DI)
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  conv8

convdone:
	VZEROUPPER
	RET

// func peakAVX2(x *float32, n int) float32
TEXT ·peakAVX2(SB), NOSPLIT, $0-20
	MOVQ x+0(FP), SI
	MOVQ n+8(FP), CX
	VXORPS Y0, Y0, Y0
	VPCMPEQD Y1, Y1, Y1
	VPSRLD $1, Y1, Y1            // all bits but the sign

peak8:
	CMPQ CX, $0
	JLE  peakdone
	VANDPS (SI), Y1, Y2
	VMAXPS Y2, Y0, Y0
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  peak8

peakdone:
	VEXTRACTF128 $1, Y0, X1
	VMAXPS X1, X0, X0
	VPERMILPS $0x4e, X0, X1
	VMAXPS X1, X0, X0
	VPERMILPS $0xb1, X0, X1
	VMAXPS X1, X0, X0
	VMOVSS X0, ret+16(FP)
	VZEROUPPER
	RET

// Two samples that mirror each other, pair k, in the three filters.
#define QUARTERS(k) \
	VMOVUPS (4*k)(SI), Y4 \
	VMOVUPS (44-4*k)(SI), Y5 \
	VADDPS Y5, Y4, Y6 \
	VSUBPS Y5, Y4, Y7 \
	VBROADCASTSS (4*k)(DX), Y8 \
	VBROADCASTSS (24+4*k)(DX), Y9 \
	VBROADCASTSS (48+4*k)(DX), Y10 \
	VFMADD231PS Y8, Y6, Y1 \
	VFMADD231PS Y9, Y7, Y2 \
	VFMADD231PS Y10, Y6, Y3

// func grainPeaksAVX2(most *float32, grains int, x *float32, f *quarters)
// A grain has eight samples.
TEXT ·grainPeaksAVX2(SB), NOSPLIT, $0-32
	MOVQ most+0(FP), DI
	MOVQ grains+8(FP), CX
	MOVQ x+16(FP), SI
	MOVQ f+24(FP), DX
	VPCMPEQD Y11, Y11, Y11
	VPSRLD $1, Y11, Y11          // all bits but the sign

grains8:
	CMPQ CX, $0
	JLE  grainsdone
	VXORPS Y1, Y1, Y1
	VXORPS Y2, Y2, Y2
	VXORPS Y3, Y3, Y3
	QUARTERS(0)
	QUARTERS(1)
	QUARTERS(2)
	QUARTERS(3)
	QUARTERS(4)
	QUARTERS(5)
	VANDPS 20(SI), Y11, Y0       // the samples themselves
	VANDPS Y11, Y1, Y1
	VANDPS Y11, Y2, Y2
	VANDPS Y11, Y3, Y3
	VADDPS Y2, Y1, Y1
	VMAXPS Y3, Y1, Y1
	VMAXPS Y1, Y0, Y0
	VEXTRACTF128 $1, Y0, X1
	VMAXPS X1, X0, X0
	VPERMILPS $0x4e, X0, X1
	VMAXPS X1, X0, X0
	VPERMILPS $0xb1, X0, X1
	VMAXPS X1, X0, X0
	VMAXSS (DI), X0, X0
	VMOVSS X0, (DI)
	ADDQ $4, DI
	ADDQ $32, SI
	DECQ CX
	JMP  grains8

grainsdone:
	VZEROUPPER
	RET

DATA masks<>+0(SB)/8, $-1
DATA masks<>+8(SB)/8, $-1
DATA masks<>+16(SB)/8, $-1
DATA masks<>+24(SB)/8, $-1
DATA masks<>+32(SB)/8, $0
DATA masks<>+40(SB)/8, $0
DATA masks<>+48(SB)/8, $0
DATA masks<>+56(SB)/8, $0
GLOBL masks<>(SB), RODATA|NOPTR, $64

// Pair p of the samples of eight frames, R9 pointing at the first one's first,
// in the five powers of the polynomials.
#define PAIR(p) \
	VMOVUPS (4*p)(R9), Y5 \
	VMOVUPS (4*(7-p))(R9), Y6 \
	VADDPS Y6, Y5, Y7 \
	VSUBPS Y6, Y5, Y8 \
	VFMADD231PS (160*p+offPairs)(DX), Y7, Y0 \
	VFMADD231PS (160*p+32+offPairs)(DX), Y7, Y1 \
	VFMADD231PS (160*p+64+offPairs)(DX), Y7, Y2 \
	VFMADD231PS (160*p+96+offPairs)(DX), Y8, Y3 \
	VFMADD231PS (160*p+128+offPairs)(DX), Y8, Y4

// The pairs of an interpolator lie before rows and few.
#define offPairs 0
#define offFew 8832

// func glideAVX2(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32)
// line points at the first of the eight samples around an undelayed first
// frame. It changes exactly n samples, since what follows is in use. Mostly
// the delays of eight frames share their whole frames; where they do not, all
// eight are computed for each number of whole frames, so that a frame's result
// does not depend on its neighbours.
TEXT ·glideAVX2(SB), NOSPLIT, $32-60
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ line+16(FP), SI
	MOVQ r+24(FP), DX
	MOVQ from+48(FP), AX
	VXORPS X13, X13, X13
	VCVTSI2SSQ AX, X13, X13
	VBROADCASTSS X13, Y13
	VADDPS upward<>(SB), Y13, Y13
	MOVBLZX offFew(DX), R11      // few
	LEAQ whole-32(SP), BX

glide8:
	CMPQ CX, $0
	JLE  glidedone

	// delay = start + k·(slope + (k−1)·curve/2)
	VBROADCASTSS one<>(SB), Y0
	VSUBPS Y0, Y13, Y0
	VBROADCASTSS half<>(SB), Y3
	VBROADCASTSS curve+40(FP), Y4
	VMULPS Y3, Y4, Y4
	VBROADCASTSS slope+36(FP), Y1
	VFMADD231PS Y0, Y4, Y1
	VBROADCASTSS start+32(FP), Y2
	VFMADD231PS Y1, Y13, Y2
	VCVTTPS2DQ Y2, Y10           // whole frames
	VCVTDQ2PS Y10, Y4
	VSUBPS Y4, Y2, Y2
	VSUBPS Y2, Y3, Y11           // from the middle of the eight samples
	VMULPS Y11, Y11, Y12
	VMOVDQU Y10, (BX)
	XORL R12, R12                // the lanes that are done
	XORL R8, R8

glidewhole:
	MOVLQSX (BX)(R8*4), R9
	VMOVD R9, X14
	VPBROADCASTD X14, Y14
	VPCMPEQD Y10, Y14, Y14
	NEGQ R9
	LEAQ (SI)(R9*4), R9
	VXORPS Y0, Y0, Y0
	VXORPS Y1, Y1, Y1
	VXORPS Y2, Y2, Y2
	VXORPS Y3, Y3, Y3
	VXORPS Y4, Y4, Y4
	TESTL R11, R11
	JNZ  glidefew
	PAIR(0)
	PAIR(1)

glidefew:
	PAIR(2)
	PAIR(3)
	VFMADD231PS Y2, Y12, Y1
	VFMADD231PS Y1, Y12, Y0
	VFMADD231PS Y4, Y12, Y3
	VFMADD231PS Y3, Y11, Y0
	VBLENDVPS Y14, Y0, Y15, Y15
	VMOVMSKPS Y14, AX
	ORL  AX, R12
	MOVL R12, R8
	XORL $0xff, R8
	BSFL R8, R8                  // the first lane that is not
	JNZ  glidewhole

	VBROADCASTSS gain+56(FP), Y1
	CMPQ CX, $8
	JLT  glidetail
	VFMADD213PS (DI), Y1, Y15
	VMOVUPS Y15, (DI)
	VBROADCASTSS eight<>(SB), Y0
	VADDPS Y0, Y13, Y13
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  glide8

glidetail:
	LEAQ masks<>(SB), AX
	NEGQ CX
	VMOVDQU 32(AX)(CX*4), Y2
	VMASKMOVPS (DI), Y2, Y3
	VFMADD213PS Y3, Y1, Y15
	VMASKMOVPS Y15, Y2, (DI)

glidedone:
	VZEROUPPER
	RET

// func turnAVX2(pos, length *int32, count int, n int32)
TEXT ·turnAVX2(SB), NOSPLIT, $0-28
	MOVQ pos+0(FP), DI
	MOVQ length+8(FP), SI
	MOVQ count+16(FP), CX
	MOVL n+24(FP), AX
	VMOVD AX, X0
	VPBROADCASTD X0, Y0

turn8:
	CMPQ CX, $0
	JLE  turndone
	VPADDD (DI), Y0, Y1
	VMOVDQU (SI), Y2
	VPSUBD Y2, Y1, Y1
	VPSRAD $31, Y1, Y3           // all bits where the loop has not ended
	VPAND Y2, Y3, Y3
	VPADDD Y3, Y1, Y1
	VMOVDQU Y1, (DI)
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  turn8

turndone:
	VZEROUPPER
	RET

// func scaleAVX2(x *float32, n int, gain float32)
TEXT ·scaleAVX2(SB), NOSPLIT, $0-20
	MOVQ x+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSS gain+16(FP), Y1

scale8:
	CMPQ CX, $0
	JLE  scaledone
	VMULPS (DI), Y1, Y0
	VMOVUPS Y0, (DI)
	ADDQ $32, DI
	SUBQ $8, CX
	JMP  scale8

scaledone:
	VZEROUPPER
	RET

DATA turned<>+0(SB)/8, $0x0000000000000007
DATA turned<>+8(SB)/8, $0x0000000200000001
DATA turned<>+16(SB)/8, $0x0000000400000003
DATA turned<>+24(SB)/8, $0x0000000600000005
GLOBL turned<>(SB), RODATA|NOPTR, $32

// func bendAVX2(w, x, y, z *float32, n int, before, after, last float32)
// Lane k of the quarter frame before one of w is lane k−1 of z.
TEXT ·bendAVX2(SB), NOSPLIT, $0-52
	MOVQ w+0(FP), DI
	MOVQ x+8(FP), SI
	MOVQ y+16(FP), DX
	MOVQ z+24(FP), R8
	MOVQ n+32(FP), CX
	VBROADCASTSS before+40(FP), Y1
	VBROADCASTSS after+44(FP), Y2
	VBROADCASTSS one<>(SB), Y3
	VMOVDQU turned<>(SB), Y4
	VBROADCASTSS last+48(FP), Y5 // z, turned by a lane
	VMOVAPS Y3, Y6
	VFMADD231PS Y5, Y5, Y6
	VSQRTPS Y6, Y6               // its radius
	XORQ R9, R9

bend8:
	CMPQ CX, $0
	JLE  benddone
	VMULPS (DI)(R9*1), Y1, Y7
	VMULPS (SI)(R9*1), Y1, Y8
	VMULPS (DX)(R9*1), Y1, Y9
	VMULPS (R8)(R9*1), Y1, Y10
	VMOVAPS Y3, Y11
	VFMADD231PS Y7, Y7, Y11
	VSQRTPS Y11, Y11
	VMOVAPS Y3, Y12
	VFMADD231PS Y8, Y8, Y12
	VSQRTPS Y12, Y12
	VMOVAPS Y3, Y13
	VFMADD231PS Y9, Y9, Y13
	VSQRTPS Y13, Y13
	VMOVAPS Y3, Y14
	VFMADD231PS Y10, Y10, Y14
	VSQRTPS Y14, Y14
	VPERMPS Y10, Y4, Y0
	VBLENDPS $1, Y5, Y0, Y15
	VMOVAPS Y0, Y5
	VPERMPS Y14, Y4, Y0
	VADDPS Y7, Y15, Y15
	VADDPS Y8, Y7, Y7
	VADDPS Y9, Y8, Y8
	VADDPS Y10, Y9, Y9
	VBLENDPS $1, Y6, Y0, Y10
	VMOVAPS Y0, Y6
	VADDPS Y11, Y10, Y10
	VADDPS Y12, Y11, Y11
	VADDPS Y13, Y12, Y12
	VADDPS Y14, Y13, Y13
	VDIVPS Y10, Y15, Y15
	VDIVPS Y11, Y7, Y7
	VDIVPS Y12, Y8, Y8
	VDIVPS Y13, Y9, Y9
	VMULPS Y2, Y15, Y15
	VMULPS Y2, Y7, Y7
	VMULPS Y2, Y8, Y8
	VMULPS Y2, Y9, Y9
	VMOVUPS Y15, (DI)(R9*1)
	VMOVUPS Y7, (SI)(R9*1)
	VMOVUPS Y8, (DX)(R9*1)
	VMOVUPS Y9, (R8)(R9*1)
	ADDQ $32, R9
	SUBQ $8, CX
	JMP  bend8

benddone:
	VZEROUPPER
	RET

// func midwayAVX2(out *float32, n int, a, b *float32, taps *[4]float32)
TEXT ·midwayAVX2(SB), NOSPLIT, $0-40
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ a+16(FP), SI
	MOVQ b+24(FP), DX
	MOVQ taps+32(FP), R8
	VBROADCASTSS 0(R8), Y1
	VBROADCASTSS 4(R8), Y2
	VBROADCASTSS 8(R8), Y3
	VBROADCASTSS 12(R8), Y4
	XORQ R9, R9

midway8:
	CMPQ CX, $0
	JLE  midwaydone
	VMOVUPS 4(SI)(R9*1), Y0
	VADDPS 8(DX)(R9*1), Y0, Y0
	VMULPS Y4, Y0, Y0
	VMOVUPS 8(SI)(R9*1), Y5
	VADDPS 4(DX)(R9*1), Y5, Y5
	VFMADD231PS Y5, Y3, Y0
	VMOVUPS (SI)(R9*1), Y5
	VADDPS 12(DX)(R9*1), Y5, Y5
	VFMADD231PS Y5, Y2, Y0
	VMOVUPS 12(SI)(R9*1), Y5
	VADDPS (DX)(R9*1), Y5, Y5
	VFMADD231PS Y5, Y1, Y0
	VMOVUPS Y0, (DI)(R9*1)
	ADDQ $32, R9
	SUBQ $8, CX
	JMP  midway8

midwaydone:
	VZEROUPPER
	RET

// func emitAVX2(out *float32, n int, left, right *float32, gain, step float32, from int, ceiling float32)
// n is a multiple of eight. What is not a number becomes the ceiling.
TEXT ·emitAVX2(SB), NOSPLIT, $0-52
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ left+16(FP), SI
	MOVQ right+24(FP), DX
	VBROADCASTSS gain+32(FP), Y1
	VBROADCASTSS step+36(FP), Y2
	MOVQ from+40(FP), AX
	VXORPS X3, X3, X3
	VCVTSI2SSQ AX, X3, X3
	VBROADCASTSS X3, Y3
	VADDPS upward<>(SB), Y3, Y3
	VBROADCASTSS eight<>(SB), Y4
	VBROADCASTSS ceiling+48(FP), Y5
	VXORPS Y6, Y6, Y6
	VSUBPS Y5, Y6, Y6

emit8:
	CMPQ CX, $0
	JLE  emitdone
	VMOVAPS Y1, Y7
	VFMADD231PS Y3, Y2, Y7
	VMULPS (SI), Y7, Y8
	VMULPS (DX), Y7, Y9
	VMINPS Y5, Y8, Y8
	VMINPS Y5, Y9, Y9
	VMAXPS Y6, Y8, Y8
	VMAXPS Y6, Y9, Y9
	VUNPCKLPS Y9, Y8, Y10
	VUNPCKHPS Y9, Y8, Y11
	VPERM2F128 $0x20, Y11, Y10, Y12
	VPERM2F128 $0x31, Y11, Y10, Y13
	VMOVUPS Y12, (DI)
	VMOVUPS Y13, 32(DI)
	VADDPS Y4, Y3, Y3
	ADDQ $64, DI
	ADDQ $32, SI
	ADDQ $32, DX
	SUBQ $8, CX
	JMP  emit8

emitdone:
	VZEROUPPER
	RET

// The end of a line, damped: line k of the room, to register y. R8 holds the
// bytes done, DX the lines, SI the memory.
#define LEAVE(k, y) \
	MOVQ (24*k)(DX), R9 \
	LEAQ (SI)(R9*4), R9 \
	VBROADCASTSS (24*k+16)(DX), Y8 \
	VBROADCASTSS (24*k+20)(DX), Y9 \
	VMULPS 4(R9)(R8*1), Y8, y \
	VFMADD231PS (R9)(R8*1), Y9, y

#define BUTTERFLY(a, b) \
	VSUBPS b, a, Y8 \
	VADDPS b, a, a \
	VMOVAPS Y8, b

#define ENTER(k, y, send) \
	MOVQ (24*k+8)(DX), R9 \
	LEAQ (SI)(R9*4), R9 \
	VADDPS send, y, y \
	VMOVUPS y, (R9)(R8*1)

// func roomAVX2(left, right, sendLeft, sendRight *float32, n int, memory *float32, lines *roomLine)
TEXT ·roomAVX2(SB), NOSPLIT, $0-56
	MOVQ left+0(FP), DI
	MOVQ right+8(FP), R10
	MOVQ sendLeft+16(FP), R11
	MOVQ sendRight+24(FP), R12
	MOVQ n+32(FP), CX
	MOVQ memory+40(FP), SI
	MOVQ lines+48(FP), DX
	XORQ R8, R8

room8:
	CMPQ CX, $0
	JLE  roomdone
	LEAVE(0, Y0)
	LEAVE(1, Y1)
	LEAVE(2, Y2)
	LEAVE(3, Y3)
	LEAVE(4, Y4)
	LEAVE(5, Y5)
	LEAVE(6, Y6)
	LEAVE(7, Y7)
	BUTTERFLY(Y0, Y2)
	BUTTERFLY(Y1, Y3)
	BUTTERFLY(Y4, Y6)
	BUTTERFLY(Y5, Y7)
	BUTTERFLY(Y0, Y4)
	BUTTERFLY(Y1, Y5)
	BUTTERFLY(Y2, Y6)
	BUTTERFLY(Y3, Y7)
	VADDPS (DI)(R8*1), Y2, Y8
	VMOVUPS Y8, (DI)(R8*1)
	VADDPS (R10)(R8*1), Y3, Y8
	VMOVUPS Y8, (R10)(R8*1)
	BUTTERFLY(Y0, Y1)
	BUTTERFLY(Y2, Y3)
	BUTTERFLY(Y4, Y5)
	BUTTERFLY(Y6, Y7)
	VMOVUPS (R11)(R8*1), Y10
	VMOVUPS (R12)(R8*1), Y11
	ENTER(0, Y0, Y10)
	ENTER(1, Y1, Y11)
	ENTER(2, Y2, Y10)
	ENTER(3, Y3, Y11)
	ENTER(4, Y4, Y10)
	ENTER(5, Y5, Y11)
	ENTER(6, Y6, Y10)
	ENTER(7, Y7, Y11)
	ADDQ $32, R8
	SUBQ $8, CX
	JMP  room8

roomdone:
	VZEROUPPER
	RET

// The part of one of the sixteen inputs, eight samples and eight states, in
// the bands (Y0 to Y3) and in the states after them (a and b).
#define SPLIT(single, double, k, a, b) \
	VBROADCASTSS single, Y8 \
	VBROADCASTSD double, Y9 \
	VFMADD231PS (128*k)(DX), Y8, Y0 \
	VFMADD231PS (128*k+32)(DX), Y8, Y1 \
	VFMADD231PS (128*k+64)(DX), Y8, Y2 \
	VFMADD231PS (128*k+96)(DX), Y8, Y3 \
	VFMADD231PD (2048+64*k)(DX), Y9, a \
	VFMADD231PD (2048+64*k+32)(DX), Y9, b

// func splitAVX2(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock)
// n is a multiple of eight.
TEXT ·splitAVX2(SB), NOSPLIT, $96-64
	MOVQ x+0(FP), SI
	MOVQ n+8(FP), CX
	MOVQ drumLow+16(FP), R8
	MOVQ drumHigh+24(FP), R9
	MOVQ hornLow+32(FP), R10
	MOVQ hornHigh+40(FP), R11
	MOVQ state+48(FP), DI
	MOVQ m+56(FP), DX
	LEAQ single-96(SP), BX       // the states in single precision, the samples in double

split8:
	CMPQ CX, $0
	JLE  splitdone
	VCVTPD2PSY (DI), X8
	VCVTPD2PSY 32(DI), X9
	VMOVUPS X8, (BX)
	VMOVUPS X9, 16(BX)
	VCVTPS2PD (SI), Y8
	VCVTPS2PD 16(SI), Y9
	VMOVUPS Y8, 32(BX)
	VMOVUPS Y9, 64(BX)
	VXORPS Y0, Y0, Y0
	VXORPS Y1, Y1, Y1
	VXORPS Y2, Y2, Y2
	VXORPS Y3, Y3, Y3
	VXORPD Y4, Y4, Y4
	VXORPD Y5, Y5, Y5
	VXORPD Y6, Y6, Y6
	VXORPD Y7, Y7, Y7
	SPLIT((SI), 32(BX), 0, Y4, Y5)
	SPLIT(4(SI), 40(BX), 1, Y6, Y7)
	SPLIT(8(SI), 48(BX), 2, Y4, Y5)
	SPLIT(12(SI), 56(BX), 3, Y6, Y7)
	SPLIT(16(SI), 64(BX), 4, Y4, Y5)
	SPLIT(20(SI), 72(BX), 5, Y6, Y7)
	SPLIT(24(SI), 80(BX), 6, Y4, Y5)
	SPLIT(28(SI), 88(BX), 7, Y6, Y7)
	SPLIT((BX), (DI), 8, Y4, Y5)
	SPLIT(4(BX), 8(DI), 9, Y6, Y7)
	SPLIT(8(BX), 16(DI), 10, Y4, Y5)
	SPLIT(12(BX), 24(DI), 11, Y6, Y7)
	SPLIT(16(BX), 32(DI), 12, Y4, Y5)
	SPLIT(20(BX), 40(DI), 13, Y6, Y7)
	SPLIT(24(BX), 48(DI), 14, Y4, Y5)
	SPLIT(28(BX), 56(DI), 15, Y6, Y7)
	VADDPD Y6, Y4, Y4
	VADDPD Y7, Y5, Y5
	VMOVUPD Y4, (DI)
	VMOVUPD Y5, 32(DI)
	VMOVUPS Y0, (R8)
	VMOVUPS Y1, (R9)
	VMOVUPS Y2, (R10)
	VMOVUPS Y3, (R11)
	ADDQ $32, SI
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, R10
	ADDQ $32, R11
	SUBQ $8, CX
	JMP  split8

splitdone:
	VZEROUPPER
	RET

// The kernels below do what those for AVX2 do, to the bit, twice as wide.

DATA upward16<>+0(SB)/4, $0.0
DATA upward16<>+4(SB)/4, $1.0
DATA upward16<>+8(SB)/4, $2.0
DATA upward16<>+12(SB)/4, $3.0
DATA upward16<>+16(SB)/4, $4.0
DATA upward16<>+20(SB)/4, $5.0
DATA upward16<>+24(SB)/4, $6.0
DATA upward16<>+28(SB)/4, $7.0
DATA upward16<>+32(SB)/4, $8.0
DATA upward16<>+36(SB)/4, $9.0
DATA upward16<>+40(SB)/4, $10.0
DATA upward16<>+44(SB)/4, $11.0
DATA upward16<>+48(SB)/4, $12.0
DATA upward16<>+52(SB)/4, $13.0
DATA upward16<>+56(SB)/4, $14.0
DATA upward16<>+60(SB)/4, $15.0
GLOBL upward16<>(SB), RODATA|NOPTR, $64

DATA sixteen<>+0(SB)/4, $16.0
GLOBL sixteen<>(SB), RODATA|NOPTR, $4

// PAIR for sixteen frames, of which those in K1 are read.
#define PAIR16(p) \
	VMOVUPS.Z (4*p)(R9), K1, Z5 \
	VMOVUPS.Z (4*(7-p))(R9), K1, Z6 \
	VADDPS Z6, Z5, Z7 \
	VSUBPS Z6, Z5, Z8 \
	VFMADD231PS.BCST (160*p+offPairs)(DX), Z7, Z0 \
	VFMADD231PS.BCST (160*p+32+offPairs)(DX), Z7, Z1 \
	VFMADD231PS.BCST (160*p+64+offPairs)(DX), Z7, Z2 \
	VFMADD231PS.BCST (160*p+96+offPairs)(DX), Z8, Z3 \
	VFMADD231PS.BCST (160*p+128+offPairs)(DX), Z8, Z4

// func glideAVX512(out *float32, n int, line *float32, r *interpolator, start, slope, curve float32, from int, gain float32)
TEXT ·glideAVX512(SB), NOSPLIT, $64-60
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ line+16(FP), SI
	MOVQ r+24(FP), DX
	MOVQ from+48(FP), AX
	VXORPS X13, X13, X13
	VCVTSI2SSQ AX, X13, X13
	VBROADCASTSS X13, Z13
	VADDPS upward16<>(SB), Z13, Z13
	MOVBLZX offFew(DX), R11
	LEAQ whole-64(SP), BX

wide16:
	CMPQ CX, $0
	JLE  widedone
	MOVL $0xffff, AX
	CMPQ CX, $16
	JGE  wideall
	SHLXL CX, AX, AX
	XORL $0xffff, AX
	ANDL $0xffff, AX

wideall:
	KMOVW AX, K1                 // the frames that are asked for
	MOVL AX, R12
	XORL $0xffff, R12            // the lanes that are done

	// delay = start + k·(slope + (k−1)·curve/2)
	VBROADCASTSS one<>(SB), Z0
	VSUBPS Z0, Z13, Z0
	VBROADCASTSS half<>(SB), Z3
	VBROADCASTSS curve+40(FP), Z4
	VMULPS Z3, Z4, Z4
	VBROADCASTSS slope+36(FP), Z1
	VFMADD231PS Z0, Z4, Z1
	VBROADCASTSS start+32(FP), Z2
	VFMADD231PS Z1, Z13, Z2
	VCVTTPS2DQ Z2, Z10           // whole frames
	VCVTDQ2PS Z10, Z4
	VSUBPS Z4, Z2, Z2
	VSUBPS Z2, Z3, Z11           // from the middle of the eight samples
	VMULPS Z11, Z11, Z12
	VMOVDQU32 Z10, (BX)
	XORL R8, R8

widewhole:
	MOVLQSX (BX)(R8*4), R9
	VPBROADCASTD R9, Z14
	VPCMPEQD Z10, Z14, K2
	NEGQ R9
	LEAQ (SI)(R9*4), R9
	VPXORD Z0, Z0, Z0
	VPXORD Z1, Z1, Z1
	VPXORD Z2, Z2, Z2
	VPXORD Z3, Z3, Z3
	VPXORD Z4, Z4, Z4
	TESTL R11, R11
	JNZ  widefew
	PAIR16(0)
	PAIR16(1)

widefew:
	PAIR16(2)
	PAIR16(3)
	VFMADD231PS Z2, Z12, Z1
	VFMADD231PS Z1, Z12, Z0
	VFMADD231PS Z4, Z12, Z3
	VFMADD231PS Z3, Z11, Z0
	VMOVAPS Z0, K2, Z15
	KMOVW K2, AX
	ORL  AX, R12
	MOVL R12, R8
	XORL $0xffff, R8
	BSFL R8, R8                  // the first lane that is not
	JNZ  widewhole

	VBROADCASTSS gain+56(FP), Z1
	VMOVUPS.Z (DI), K1, Z3
	VFMADD213PS Z3, Z1, Z15
	VMOVUPS Z15, K1, (DI)
	VBROADCASTSS sixteen<>(SB), Z0
	VADDPS Z0, Z13, Z13
	ADDQ $64, DI
	ADDQ $64, SI
	SUBQ $16, CX
	JMP  wide16

widedone:
	VZEROUPPER
	RET

// SPLIT with two bands a register, and all states in one.
#define SPLIT2(single, double, k, a) \
	VBROADCASTSS single, Z8 \
	VBROADCASTSD double, Z9 \
	VFMADD231PS (128*k)(DX), Z8, Z0 \
	VFMADD231PS (128*k+64)(DX), Z8, Z1 \
	VFMADD231PD (2048+64*k)(DX), Z9, a

// func splitAVX512(x *float32, n int, drumLow, drumHigh, hornLow, hornHigh *float32, state *float64, m *splitBlock)
// n is a multiple of eight.
TEXT ·splitAVX512(SB), NOSPLIT, $96-64
	MOVQ x+0(FP), SI
	MOVQ n+8(FP), CX
	MOVQ drumLow+16(FP), R8
	MOVQ drumHigh+24(FP), R9
	MOVQ hornLow+32(FP), R10
	MOVQ hornHigh+40(FP), R11
	MOVQ state+48(FP), DI
	MOVQ m+56(FP), DX
	LEAQ single-96(SP), BX       // the states in single precision, the samples in double

splitwide:
	CMPQ CX, $0
	JLE  splitwidedone
	VMOVUPD (DI), Z9
	VCVTPD2PS Z9, Y8
	VMOVUPS Y8, (BX)
	VMOVUPS (SI), Y8
	VCVTPS2PD Y8, Z8
	VMOVUPD Z8, 32(BX)
	VPXORD Z0, Z0, Z0
	VPXORD Z1, Z1, Z1
	VPXORD Z4, Z4, Z4
	VPXORD Z6, Z6, Z6
	SPLIT2((SI), 32(BX), 0, Z4)
	SPLIT2(4(SI), 40(BX), 1, Z6)
	SPLIT2(8(SI), 48(BX), 2, Z4)
	SPLIT2(12(SI), 56(BX), 3, Z6)
	SPLIT2(16(SI), 64(BX), 4, Z4)
	SPLIT2(20(SI), 72(BX), 5, Z6)
	SPLIT2(24(SI), 80(BX), 6, Z4)
	SPLIT2(28(SI), 88(BX), 7, Z6)
	SPLIT2((BX), (DI), 8, Z4)
	SPLIT2(4(BX), 8(DI), 9, Z6)
	SPLIT2(8(BX), 16(DI), 10, Z4)
	SPLIT2(12(BX), 24(DI), 11, Z6)
	SPLIT2(16(BX), 32(DI), 12, Z4)
	SPLIT2(20(BX), 40(DI), 13, Z6)
	SPLIT2(24(BX), 48(DI), 14, Z4)
	SPLIT2(28(BX), 56(DI), 15, Z6)
	VADDPD Z6, Z4, Z4
	VMOVUPD Z4, (DI)
	VMOVUPS Y0, (R8)
	VEXTRACTF64X4 $1, Z0, (R9)
	VMOVUPS Y1, (R10)
	VEXTRACTF64X4 $1, Z1, (R11)
	ADDQ $32, SI
	ADDQ $32, R8
	ADDQ $32, R9
	ADDQ $32, R10
	ADDQ $32, R11
	SUBQ $8, CX
	JMP  splitwide

splitwidedone:
	VZEROUPPER
	RET

DATA packed<>+0(SB)/8, $0x0908060504020100
DATA packed<>+8(SB)/8, $0x808080800e0d0c0a
GLOBL packed<>(SB), RODATA|NOPTR, $16

DATA halfDouble<>+0(SB)/8, $0.5
GLOBL halfDouble<>(SB), RODATA|NOPTR, $8

// func packAVX2(out *byte, samples *float32, n int, full float64)
// n is a multiple of eight. Four bytes after the last sample's are lost.
TEXT ·packAVX2(SB), NOSPLIT, $0-32
	MOVQ out+0(FP), DI
	MOVQ samples+8(FP), SI
	MOVQ n+16(FP), CX
	VBROADCASTSD full+24(FP), Y6
	VBROADCASTSD halfDouble<>(SB), Y7
	VXORPD Y8, Y8, Y8
	VSUBPD Y6, Y8, Y8
	VPCMPEQD Y9, Y9, Y9
	VPSLLQ $63, Y9, Y9           // the sign
	VMOVDQU packed<>(SB), X10

pack8:
	CMPQ CX, $0
	JLE  packdone
	VCVTPS2PD (SI), Y0
	VCVTPS2PD 16(SI), Y1
	VMULPD Y6, Y0, Y0
	VMULPD Y6, Y1, Y1
	VCMPPD $7, Y0, Y0, Y2        // is a number
	VCMPPD $7, Y1, Y1, Y3
	VANDPD Y2, Y0, Y0
	VANDPD Y3, Y1, Y1
	VMINPD Y6, Y0, Y0
	VMINPD Y6, Y1, Y1
	VMAXPD Y8, Y0, Y0
	VMAXPD Y8, Y1, Y1
	VANDPD Y9, Y0, Y2
	VANDPD Y9, Y1, Y3
	VORPD Y7, Y2, Y2
	VORPD Y7, Y3, Y3
	VADDPD Y2, Y0, Y0
	VADDPD Y3, Y1, Y1
	VCVTTPD2DQY Y0, X0
	VCVTTPD2DQY Y1, X1
	VPSHUFB X10, X0, X0
	VPSHUFB X10, X1, X1
	VMOVDQU X0, (DI)
	VMOVDQU X1, 12(DI)
	ADDQ $24, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  pack8

packdone:
	VZEROUPPER
	RET
