/// <reference types="next/types/global" />
