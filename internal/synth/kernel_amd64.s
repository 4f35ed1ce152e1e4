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

// func butterflyAVX2(a, b *float32, n int)
TEXT ·butterflyAVX2(SB), NOSPLIT, $0-24
	MOVQ a+0(FP), DI
	MOVQ b+8(FP), SI
	MOVQ n+16(FP), CX

butterfly8:
	CMPQ CX, $0
	JLE  butterflydone
	VMOVUPS (DI), Y0
	VMOVUPS (SI), Y1
	VADDPS Y1, Y0, Y2
	VSUBPS Y1, Y0, Y3
	VMOVUPS Y2, (DI)
	VMOVUPS Y3, (SI)
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  butterfly8

butterflydone:
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

// One read: the row's coefficients, moved on by the part of a phase, times the
// eight samples of the line.
#define READ(k, product) \
	MOVLQSX (4*k)(BX), R8 \
	MOVLQSX (32+4*k)(BX), R9 \
	VBROADCASTSS (64+4*k)(BX), Y8 \
	SHLQ $6, R9 \
	VMOVUPS (DX)(R9*1), Y9 \
	VFMADD231PS 32(DX)(R9*1), Y8, Y9 \
	NEGQ R8 \
	VMULPS (4*k)(SI)(R8*4), Y9, product

// func glideAVX2(out *float32, n int, line, rows *float32, start, slope, curve float32, from int)
// line points at the first of the eight samples around an undelayed first
// frame.
TEXT ·glideAVX2(SB), NOSPLIT, $96-56
	MOVQ out+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ line+16(FP), SI
	MOVQ rows+24(FP), DX
	VBROADCASTSS start+32(FP), Y10
	VBROADCASTSS slope+36(FP), Y11
	VBROADCASTSS curve+40(FP), Y12
	MOVQ from+48(FP), AX
	VXORPS X13, X13, X13
	VCVTSI2SSQ AX, X13, X13
	VBROADCASTSS X13, Y13
	VADDPS upward<>(SB), Y13, Y13
	VBROADCASTSS phases<>(SB), Y14
	VBROADCASTSS half<>(SB), Y15
	VMULPS Y15, Y12, Y12         // half the curve
	LEAQ places-96(SP), BX       // whole frames, rows and parts of a row

glide8:
	CMPQ CX, $0
	JLE  glidedone

	// delay = start + k·(slope + (k−1)·curve/2)
	VBROADCASTSS one<>(SB), Y0
	VSUBPS Y0, Y13, Y0
	VMOVAPS Y11, Y1
	VFMADD231PS Y0, Y12, Y1
	VMOVAPS Y10, Y2
	VFMADD231PS Y1, Y13, Y2
	VCVTTPS2DQ Y2, Y3            // whole frames
	VCVTDQ2PS Y3, Y4
	VSUBPS Y4, Y2, Y2
	VMULPS Y14, Y2, Y2
	VCVTTPS2DQ Y2, Y5            // row
	VCVTDQ2PS Y5, Y6
	VSUBPS Y6, Y2, Y2            // part of a row
	VMOVDQU Y3, (BX)
	VMOVDQU Y5, 32(BX)
	VMOVUPS Y2, 64(BX)
	READ(0, Y0)
	READ(1, Y1)
	READ(2, Y2)
	READ(3, Y3)
	READ(4, Y4)
	READ(5, Y5)
	READ(6, Y6)
	READ(7, Y7)
	VHADDPS Y1, Y0, Y0
	VHADDPS Y3, Y2, Y2
	VHADDPS Y5, Y4, Y4
	VHADDPS Y7, Y6, Y6
	VHADDPS Y2, Y0, Y0
	VHADDPS Y6, Y4, Y4
	VPERM2F128 $0x20, Y4, Y0, Y1
	VPERM2F128 $0x31, Y4, Y0, Y2
	VADDPS Y2, Y1, Y0
	VMOVUPS Y0, (DI)
	VBROADCASTSS eight<>(SB), Y0
	VADDPS Y0, Y13, Y13
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $8, CX
	JMP  glide8

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

// func saturateAVX2(x *float32, n int, before, after float32)
TEXT ·saturateAVX2(SB), NOSPLIT, $0-24
	MOVQ x+0(FP), DI
	MOVQ n+8(FP), CX
	VBROADCASTSS before+16(FP), Y1
	VBROADCASTSS after+20(FP), Y2
	VBROADCASTSS one<>(SB), Y3

saturate8:
	CMPQ CX, $0
	JLE  saturatedone
	VMULPS (DI), Y1, Y0
	VMULPS Y0, Y0, Y4
	VADDPS Y3, Y4, Y4
	VSQRTPS Y4, Y4
	VDIVPS Y4, Y0, Y0
	VMULPS Y2, Y0, Y0
	VMOVUPS Y0, (DI)
	ADDQ $32, DI
	SUBQ $8, CX
	JMP  saturate8

saturatedone:
	VZEROUPPER
	RET
